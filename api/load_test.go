package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync"
	"testing"
	"time"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler/shoptest"
)

// The load of TestLoad: short unless these say otherwise. The full load is
//
//	go test ./api -run TestLoad -load.clients 200 -load.time 60s -load.pieces 2000 -v
var (
	loadClients = flag.Int("load.clients", 20, "clients of TestLoad, side by side")
	loadTime    = flag.Duration("load.time", 2*time.Second, "how long TestLoad goes on")
	loadPieces  = flag.Int("load.pieces", 300, "pieces of the shop of TestLoad")
	loadPause   = flag.Duration("load.pause", 200*time.Millisecond, "what a client of TestLoad waits between two requests, on average")
)

// mostPatience is how long a hundredth of the reads may take at least, beside a plan
// that is being made.
const mostPatience = 100 * time.Millisecond

// Many clients read and write at once, while a plan is being made: none gets another
// refusal than one that tells it to come again, and hardly any read takes long.
func TestLoad(t *testing.T) {
	h := apitest.Open(t, func(c *api.Config) { c.Planning.Effort = 3_000_000 })
	if err := h.Books.Import(t.Context(), shoptest.Grow(*loadPieces, 1).Encode()); err != nil {
		t.Fatal(err)
	}
	h.As(access.Planner).Do("POST", "/plans", nil).Must(http.StatusAccepted)
	h.As(access.Planner).Do("POST", "/runs/1/stop", nil).Must(http.StatusAccepted)
	planned(t, h) // what is read below; the next goes on until the server stops
	url, stop := listen(t, h)
	running := h.As(access.Planner).Do("POST", "/plans", nil).Must(http.StatusAccepted).Header.Get("Location")
	l := &load{url: url, token: h.Admin().Header.Get("Authorization"), client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: *loadClients}}}
	l.run(t.Context(), *loadClients, *loadTime)
	var run ran
	h.As(access.Planner).Get(running[len("/api/v1"):]).Into(&run)
	if run.Stage != "planning" {
		t.Errorf("the plan beside the load is %+v", run)
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
	l.judge(t)
}

// A load is many clients of one server.
type load struct {
	url, token string
	client     *http.Client

	mu     sync.Mutex
	reads  []time.Duration
	writes []time.Duration
	wrong  []string
}

// run has clients send requests for a time.
func (l *load) run(ctx context.Context, clients int, d time.Duration) {
	ctx, cancel := context.WithTimeout(ctx, d)
	defer cancel()
	var all sync.WaitGroup
	for i := range clients {
		all.Go(func() { l.work(ctx, rand.New(rand.NewPCG(1, uint64(i)))) })
	}
	all.Wait()
}

// work is one client: four requests of five read.
func (l *load) work(ctx context.Context, dice *rand.Rand) {
	for n := 0; ; n++ {
		pause := time.NewTimer(time.Duration(dice.Int64N(int64(2 * *loadPause))))
		select {
		case <-ctx.Done():
			return
		case <-pause.C:
		}
		reads, writes := l.requests(dice, n)
		if dice.IntN(5) > 0 {
			l.send(reads[dice.IntN(len(reads))], &l.reads)
		} else {
			l.send(writes[dice.IntN(len(writes))], &l.writes)
		}
	}
}

// A sending is one request.
type sending struct {
	method, path string
	body         any
}

func (l *load) requests(dice *rand.Rand, n int) (reads, writes []sending) {
	reads = []sending{
		{"GET", "/plans/latest", nil},
		{"GET", "/plans?limit=20", nil},
		{"GET", "/plans/1/needs", nil},
		{"GET", "/notices", nil},
		{"GET", "/tick", nil},
		{"GET", "/catalog/ovens", nil},
	}
	writes = []sending{
		{"PATCH", "/tick", map[string]any{"at": fmt.Sprintf("%02d:%02d", dice.IntN(24), dice.IntN(60))}},
		{"POST", "/notices/1/seen", nil},
	}
	return reads, writes
}

// send sends a request and notes how long it took, and an answer that should not be.
func (l *load) send(s sending, times *[]time.Duration) {
	var body io.Reader
	if s.body != nil {
		text, _ := json.Marshal(s.body)
		body = bytes.NewReader(text)
	}
	r, err := http.NewRequest(s.method, l.url+"/api/v1"+s.path, body)
	if err != nil {
		panic(err)
	}
	r.Header.Set("Authorization", l.token)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("If-Match", "*")
	begun := time.Now()
	answer, err := l.client.Do(r)
	var text []byte
	if err == nil {
		text, err = io.ReadAll(answer.Body)
		err2 := answer.Body.Close()
		if err == nil {
			err = err2
		}
	}
	took := time.Since(begun)
	l.mu.Lock()
	defer l.mu.Unlock()
	*times = append(*times, took)
	fine := []int{http.StatusConflict, http.StatusPreconditionFailed, http.StatusTooManyRequests}
	switch {
	case err != nil:
		l.wrong = append(l.wrong, err.Error())
	case answer.StatusCode >= 400 && !slices.Contains(fine, answer.StatusCode):
		l.wrong = append(l.wrong, fmt.Sprintf("%s %s: %d %s", s.method, s.path, answer.StatusCode, text))
	}
}

func (l *load) judge(t *testing.T) {
	t.Helper()
	if len(l.wrong) > 0 {
		t.Errorf("%d requests went wrong, the first: %s", len(l.wrong), l.wrong[0])
	}
	reads, writes := quantiles(l.reads), quantiles(l.writes)
	t.Logf("%d reads: %s; %d writes: %s", len(l.reads), reads, len(l.writes), writes)
	if reads[2] > mostPatience && *loadClients >= 200 {
		t.Errorf("a hundredth of the reads takes %s or more, want %s at most", reads[2], mostPatience)
	}
}

// quantiles returns what half, nineteen of twenty, and ninety-nine of a hundred do
// not exceed, and the most.
func quantiles(times []time.Duration) [4]time.Duration {
	var q [4]time.Duration
	slices.Sort(times)
	for i, share := range []float64{0.5, 0.95, 0.99, 1} {
		if n := len(times); n > 0 {
			q[i] = times[min(n-1, int(share*float64(n)))].Round(100 * time.Microsecond)
		}
	}
	return q
}
