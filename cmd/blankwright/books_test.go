package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"blankwright/scheduler"
)

// A shop file goes into books, and out of them, and its copy serves as well.
func TestBooks_Walk(t *testing.T) {
	dir := t.TempDir()
	books, other, copied := filepath.Join(dir, "books"), filepath.Join(dir, "other"), filepath.Join(dir, "copy.db")
	run := func(want int, says string, args ...string) string {
		t.Helper()
		code, stdout, stderr := blankwright(args...)
		if code != want || !strings.Contains(stdout+stderr, says) {
			t.Fatalf("%v: exit %d, standard output %.300q, standard error %q; want exit %d and %q", args, code, stdout, stderr, want, says)
		}
		return stdout
	}
	run(exitFine, "Sandbar Yard (invented): 2 products", "import", "-data", books, yardFile)
	run(exitBad, "hold a shop already", "import", "-data", books, yardFile)
	out := run(exitFine, "blankwright/shop/1", "export", "-data", books)
	run(exitFine, "are copied into", "backup", "-data", books, copied)
	run(exitBad, "there already", "backup", "-data", books, copied)
	run(exitFine, "are those of", "restore", "-data", other, copied)
	run(exitFine, "is kept as", "restore", "-data", other, copied)
	if again := run(exitFine, "", "export", "-data", other); again != out {
		t.Error("the restored books export another shop")
	}
	file := filepath.Join(dir, "out.json")
	run(exitFine, "", "export", "-data", other, "-o", file)
	if content(t, file) != out {
		t.Error("the file holds another shop than standard output did")
	}
}

// What can't be done with books is told, and leaves them as they were.
func TestBooks_Refused(t *testing.T) {
	dir := t.TempDir()
	noBooks := filepath.Join(dir, "none")
	bad := filepath.Join(dir, "bad.json")
	if err := os.WriteFile(bad, []byte(`{"format": "blankwright/shop/1", "horizon_days": 0}`), 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, says string
		args       []string
	}{
		{"export from nothing", "there are no books in", []string{"export", "-data", noBooks}},
		{"backup of nothing", "there are no books in", []string{"backup", "-data", noBooks, filepath.Join(dir, "b")}},
		{"backup to standard output", "a file of its own", []string{"backup", "-data", noBooks, "-"}},
		{"restore of no file", "no such file", []string{"restore", "-data", noBooks, filepath.Join(dir, "b")}},
		{"restore of no backup", "it is no backup", []string{"restore", "-data", noBooks, bad}},
		{"import of a bad file", "horizon_days: is 0", []string{"import", "-data", noBooks, bad}},
		{"serve to all without an account", "no account yet", []string{"serve", "-data", noBooks, "-addr", ":0"}},
		{"serve old books to all without an account", "no account yet", []string{"serve", "-data", dir, "-addr", ":0"}},
		{"serve at no address", "can't listen at", []string{"serve", "-data", filepath.Join(dir, "new"), "-addr", "127.0.0.1:x"}},
		{"serve behind no proxy", "proxies", []string{"serve", "-data", filepath.Join(dir, "new"), "-proxy", "x"}},
		{"open demo for all", "this machine alone", []string{"demo", "-addr", "0.0.0.0:0"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			code, stdout, stderr := blankwright(test.args...)
			if code != exitBad || stdout != "" || !strings.Contains(stderr, test.says) {
				t.Errorf("exit %d, standard output %q, standard error %q; want exit 2 and %q", code, stdout, stderr, test.says)
			}
		})
	}
	if _, err := os.Stat(noBooks); err == nil {
		t.Error("books were made by what was refused")
	}
}

// A server is what a command started, to be asked and stopped.
type server struct {
	url  string
	out  *lines
	stop func() int
}

// lines is an output that can be waited on line by line.
type lines struct {
	mu   sync.Mutex
	text bytes.Buffer
	more chan struct{}
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	select {
	case l.more <- struct{}{}:
	default:
	}
	return l.text.Write(p)
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// start runs a command that serves, until it says where.
func start(t *testing.T, w *world, args ...string) *server {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, ended := &lines{more: make(chan struct{}, 1)}, make(chan int, 1)
	w.stdout, w.stderr = out, io.Discard
	go func() { ended <- w.run(ctx, args) }()
	s := &server{out: out, stop: func() int { cancel(); return <-ended }}
	for !strings.Contains(out.String(), "http://") {
		select {
		case <-out.more:
		case code := <-ended:
			t.Fatalf("%v: exit %d, %s", args, code, out)
		}
	}
	_, rest, _ := strings.Cut(out.String(), "http://")
	host, _, _ := strings.Cut(rest, "/")
	s.url = "http://" + host
	return s
}

// The first admin is made by the link that serve prints; nobody else gets in;
// a stop is clean and what was made is there at the next start.
func TestServe(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "books")
	s := start(t, &newTrial(nil).world, "serve", "-data", dir, "-addr", "127.0.0.1:0")
	_, key, ok := strings.Cut(s.out.String(), "/first?key=")
	if !ok {
		t.Fatalf("no link in %q", s.out)
	}
	if got := ask(t, "GET", s.url+"/api/v1/export", ""); got != http.StatusUnauthorized {
		t.Errorf("without an account: status %d", got)
	}
	body, _ := json.Marshal(map[string]string{"key": strings.TrimSpace(key), "name": "Maren", "password": "long enough for her"})
	if got := ask(t, "POST", s.url+"/api/v1/first-admin", string(body)); got != http.StatusCreated {
		t.Errorf("first admin: status %d", got)
	}
	if code, _, stderr := blankwright("import", "-data", dir, yardFile); code != exitBad || !strings.Contains(stderr, "open in another process") {
		t.Errorf("import beside a server: exit %d, %q", code, stderr)
	}
	if code := s.stop(); code != exitFine || !strings.Contains(s.out.String(), "Stopped.") {
		t.Errorf("exit %d, %q", code, s.out)
	}
	again := start(t, &newTrial(nil).world, "serve", "-data", dir, "-addr", "127.0.0.1:0")
	defer again.stop()
	if strings.Contains(again.out.String(), "key=") {
		t.Errorf("a second link: %q", again.out)
	}
}

// The demo with an address serves Tern Point's books, with a plan, to all on this
// machine; another time it serves them as they are.
func TestDemo_Serves(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	s := start(t, &newTrial(scheduler.Plan).world, "demo", "-effort", "0", "-data", dir, "-addr", "127.0.0.1:0")
	if got := ask(t, "GET", s.url+"/api/v1/plans/latest", ""); got != http.StatusOK {
		t.Errorf("the plan: status %d", got)
	}
	if got := ask(t, "GET", s.url+"/api/v1/catalog/ovens/skerry", ""); got != http.StatusOK {
		t.Errorf("an oven of Tern Point: status %d", got)
	}
	if got := ask(t, "GET", s.url+"/api/v1/orders?dealer=gull", ""); got != http.StatusOK {
		t.Errorf("the orders of a dealer: status %d", got)
	}
	if task, pieces := underway(t, s.url); ask(t, "POST", fmt.Sprintf("%s/api/v1/tasks/%d/done", s.url, task), fmt.Sprintf(`{"good": %d}`, pieces)) != http.StatusCreated {
		t.Errorf("task %d is under way, and cannot be done now", task)
	}
	if !strings.Contains(s.out.String(), "invented") {
		t.Errorf("nothing says that all is invented: %q", s.out)
	}
	if code := s.stop(); code != exitFine {
		t.Errorf("exit %d", code)
	}
	again := start(t, &newTrial(nil).world, "demo", "-data", dir, "-addr", "127.0.0.1:0")
	defer again.stop()
	if got := ask(t, "GET", again.url+"/api/v1/plans/2", ""); got != http.StatusNotFound {
		t.Errorf("a second plan: status %d", got)
	}
}

// underway returns a task of the demo that the floor has begun, and its pieces.
func underway(t *testing.T, url string) (task int64, pieces int) {
	t.Helper()
	answer, err := http.Get(url + "/api/v1/loads/TP-0411")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = answer.Body.Close() })
	var load struct {
		Tasks []struct {
			ID     int64
			State  string
			Pieces int
		}
	}
	if err := json.NewDecoder(answer.Body).Decode(&load); err != nil {
		t.Fatal(err)
	}
	for _, task := range load.Tasks {
		if task.State == "begun" {
			return task.ID, task.Pieces
		}
	}
	t.Fatal("no task of TP-0411 is under way")
	return 0, 0
}

func ask(t *testing.T, method, url, body string) int {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := answer.Body.Close(); err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode
}

// Only addresses that nobody else can reach count as this machine's own.
func TestIsLoopback(t *testing.T) {
	for addr, want := range map[string]bool{
		"127.0.0.1:8080": true, "127.8.8.8:1": true, "[::1]:8080": true, "localhost:80": true,
		":8080": false, "0.0.0.0:80": false, "[::]:80": false, "192.0.2.1:80": false, "example.org:80": false, "127.0.0.1": false,
	} {
		if got := isLoopback(addr); got != want {
			t.Errorf("%q: %v, want %v", addr, got, want)
		}
	}
}
