package apitest

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"blankwright/api/respond"
)

// A Client sends requests to a house's server, without a network.
type Client struct {
	// Header goes with every request.
	Header http.Header
	house  *House
	loose  bool
}

// Loose returns a client like this one whose requests and answers are not held
// against the document: that takes most of a request's time.
func (c *Client) Loose() *Client { return &Client{Header: c.Header, house: c.house, loose: true} }

// With returns a client like this one that sends a header as well.
func (c *Client) With(name, value string) *Client {
	header := c.Header.Clone()
	header.Set(name, value)
	return &Client{Header: header, house: c.house, loose: c.loose}
}

// Do sends a request, and has request and answer checked by the document. A
// body that is no text, reader or bytes is sent as JSON. path begins after
// /api/v1, or with / and a dot for what lies elsewhere.
func (c *Client) Do(method, path string, body any) *Answer {
	c.house.t.Helper()
	text := encode(c.house.t, body)
	target := "/api/v1" + path
	if strings.HasPrefix(path, "/.") {
		target = path[2:]
	}
	r := httptest.NewRequestWithContext(c.house.t.Context(), method, target, bytes.NewReader(text))
	r.Host = "127.0.0.1:8080"
	if host := c.Header.Get("Host"); host != "" {
		r.Host = host
	}
	for name, values := range c.Header {
		r.Header[name] = values
	}
	if len(text) > 0 && r.Header.Get("Content-Type") == "" {
		r.Header.Set("Content-Type", "application/json")
	}
	w := httptest.NewRecorder()
	c.house.Server.ServeHTTP(w, r)
	r.Body = io.NopCloser(bytes.NewReader(text))
	if !c.loose {
		c.house.document.check(c.house.t, r, w.Result(), w.Body.Bytes())
	}
	return &Answer{t: c.house.t, Status: w.Code, Header: w.Result().Header, Text: w.Body.Bytes()}
}

// Get is Do without a body.
func (c *Client) Get(path string) *Answer {
	c.house.t.Helper()
	return c.Do(http.MethodGet, path, nil)
}

func encode(t testing.TB, body any) []byte {
	t.Helper()
	switch body := body.(type) {
	case nil:
		return nil
	case string:
		return []byte(body)
	case []byte:
		return body
	}
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// An Answer is what came back.
type Answer struct {
	Status int
	Header http.Header
	Text   []byte
	t      testing.TB
}

// Must ends the test unless the answer has a status.
func (a *Answer) Must(status int) *Answer {
	a.t.Helper()
	if a.Status != status {
		a.t.Fatalf("status %d, want %d: %s", a.Status, status, a.Text)
	}
	return a
}

// Into reads the answer's JSON.
func (a *Answer) Into(value any) *Answer {
	a.t.Helper()
	if err := json.Unmarshal(a.Text, value); err != nil {
		a.t.Fatalf("%v in: %s", err, a.Text)
	}
	return a
}

// Problem reads the answer as a problem document.
func (a *Answer) Problem() respond.Problem {
	a.t.Helper()
	if got := a.Header.Get("Content-Type"); got != respond.ContentType {
		a.t.Fatalf("content type %q, want %q: %s", got, respond.ContentType, a.Text)
	}
	var p respond.Problem
	a.Into(&p)
	return p
}

// Locations returns where a problem document says that something is wrong.
func (a *Answer) Locations() []string {
	a.t.Helper()
	var list []string
	for _, field := range a.Problem().Errors {
		list = append(list, field.Location)
	}
	return list
}
