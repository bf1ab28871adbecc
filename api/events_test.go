package api_test

import (
	"bufio"
	"context"
	"encoding/json"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"blankwright/api/access"
	"blankwright/api/apitest"
)

// listen serves a house on the network until the test ends it.
func listen(t *testing.T, h *apitest.House) (url string, stop func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- h.Server.Serve(ctx, l) }()
	t.Cleanup(cancel)
	url = "http://" + l.Addr().String()
	begun(t, url)
	return url, func() error {
		cancel()
		return <-ended
	}
}

// begun waits for a server's first answer. Before that it has not yet ended the plans
// of the server before it, and would take one asked for past its listener for theirs.
func begun(t *testing.T, url string) {
	t.Helper()
	answer, err := http.Get(url + "/healthz")
	if err != nil {
		t.Fatal(err)
	}
	if err := answer.Body.Close(); err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("status %d, %v", answer.StatusCode, err)
	}
}

// A stream is one client's stream of events.
type stream struct {
	t       *testing.T
	scanner *bufio.Scanner
}

func follow(t *testing.T, url string, c *apitest.Client, last string) *stream {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, url+"/api/v1/events", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header = c.Header.Clone()
	if last != "" {
		r.Header.Set("Last-Event-ID", last)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = answer.Body.Close() })
	if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != "text/event-stream" {
		t.Fatalf("status %d, content type %q", answer.StatusCode, answer.Header.Get("Content-Type"))
	}
	s := &stream{t, bufio.NewScanner(answer.Body)}
	s.scanner.Scan() // the stream has begun: it says when to come back
	return s
}

// next returns the next event's id and what it tells of.
func (s *stream) next() (id string, of string) {
	s.t.Helper()
	for s.scanner.Scan() {
		line := s.scanner.Text()
		if given, ok := strings.CutPrefix(line, "id: "); ok {
			id = given
		}
		if data, ok := strings.CutPrefix(line, "data: "); ok {
			var e struct{ Kind, What string }
			if err := json.Unmarshal([]byte(data), &e); err != nil {
				s.t.Fatal(err)
			}
			return id, e.Kind + " " + e.What
		}
	}
	s.t.Fatal("the stream has ended")
	return "", ""
}

// A stream tells of changes as they come; one that is taken up again goes on
// after the last event that was seen; all end when the server stops.
func TestEvents(t *testing.T) {
	h := apitest.Open(t)
	admin := h.As(access.Admin)
	url, stop := listen(t, h)
	live := follow(t, url, admin, "")
	add := func(name string) {
		admin.Do("POST", "/tokens", map[string]any{
			"name": name, "roles": []string{"sales"}, "ends": h.Clock.Now().Add(time.Hour),
		}).Must(http.StatusCreated)
	}
	add("one")
	add("two")
	seen, of := live.next()
	if of != "token added" {
		t.Errorf("the event tells of %q", of)
	}
	second, _ := live.next()
	if id, _ := follow(t, url, admin, seen).next(); id != second {
		t.Errorf("taken up after %s, it goes on with %s, want %s", seen, id, second)
	}
	if err := stop(); err != nil {
		t.Errorf("stop: %v", err)
	}
	if live.scanner.Scan(); live.scanner.Scan() {
		t.Errorf("the stream goes on with %q", live.scanner.Text())
	}
}

// A stream begins nowhere else than after an event.
func TestEvents_BadInput(t *testing.T) {
	h := apitest.Open(t)
	viewer := h.As(access.Viewer)
	for _, last := range []string{"x", "-1", "1.5", "99999999999999999999"} {
		for _, answer := range []*apitest.Answer{
			viewer.With("Last-Event-ID", last).Get("/events"),
			viewer.Get("/events?after=" + last),
		} {
			if got := answer.Must(http.StatusUnprocessableEntity).Locations(); len(got) != 1 {
				t.Errorf("%q: wrong at %v", last, got)
			}
		}
	}
	h.As().Get("/events").Must(http.StatusUnauthorized)
}
