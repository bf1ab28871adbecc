package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// The load of TestLoad: short, unless these say otherwise. The full load is
//
//	go test ./api -run TestLoad -v -load.clients 200 -load.time 60s -load.pieces 2000
var (
	loadClients = flag.Int("load.clients", 20, "clients of TestLoad, side by side")
	loadTime    = flag.Duration("load.time", 2*time.Second, "how long TestLoad goes on")
	loadPieces  = flag.Int("load.pieces", 300, "pieces of the shop of TestLoad")
	loadEffort  = flag.Int("load.effort", 150_000, "effort of the plan beside TestLoad")
	loadPause   = flag.Duration("load.pause", time.Second, "what a client of TestLoad waits between two requests, on average")
)

// mostPatience is what ninety-nine of a hundred reads may take under the full load,
// on two processors that have nothing else to do.
const mostPatience = 100 * time.Millisecond

// mostForPages is what nineteen of twenty pages may take under it.
const mostForPages = 200 * time.Millisecond

// fullLoad is from how many clients on the load is the full one: with fewer, the test
// runs among others on a busy machine, and holds nobody to a time.
const fullLoad = 200

// Many clients read and write at once, while a plan is being made: none gets another
// refusal than those that tell it to look or come again, and hardly any read takes long.
func TestLoad(t *testing.T) {
	var effort atomic.Int64
	effort.Store(200)
	h, l := newLoad(t, &effort)
	effort.Store(int64(*loadEffort))
	url, stop := listen(t, h)
	running := h.As(access.Planner).Do("POST", "/plans", nil).Must(http.StatusAccepted).Header.Get("Location")
	l.url = url
	l.run(t.Context(), *loadClients, *loadTime)
	var run ran
	if h.As(access.Planner).Get(strings.TrimPrefix(running, "/api/v1")).Into(&run); run.Stage != "planning" {
		t.Errorf("the plan beside the load is %+v", run)
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
	if kept, err := h.Books.LatestPlan(t.Context()); err != nil || kept.ID != run.ID || kept.Stopped != scheduler.ByStop {
		t.Errorf("the plan that the stop ended is not kept: the latest is %+v, %v", kept, err)
	}
	l.judge(t)
	if err := h.Books.Verify(t.Context()); err != nil {
		t.Error(err)
	}
}

// A load is many clients of one server.
type load struct {
	url, token string
	client     *http.Client
	products   []string
	reads      []string
	pages      []string
	tasks      []floorTask

	mu     sync.Mutex
	took   map[string][]time.Duration // by what was asked for
	wrong  []string
	wanted map[int]int // answers by status
}

// BenchmarkPages opens all pages, then each by itself, again and again, with nobody
// else there.
//
//	go test ./api -run '^$' -bench Pages -benchtime 50x -load.pieces 10000
func BenchmarkPages(b *testing.B) {
	var effort atomic.Int64
	effort.Store(200)
	h, l := newLoad(b, &effort)
	a := h.Admin().Loose().With("Accept", "text/html")
	open := func(b *testing.B, pages ...string) {
		var took []time.Duration
		heaviest := 0
		for b.Loop() {
			for _, page := range pages {
				begun := time.Now()
				answer := a.Get("/." + page).Must(http.StatusOK)
				took, heaviest = append(took, time.Since(begun)), max(heaviest, len(answer.Text))
			}
		}
		b.ReportMetric(quantiles(took)[1].Seconds()*1000, "p95-ms")
		b.ReportMetric(float64(heaviest), "bytes")
	}
	b.Run("all", func(b *testing.B) { open(b, l.pages...) })
	for _, page := range l.pages {
		b.Run(page, func(b *testing.B) { open(b, page) })
	}
}

// newLoad has a plan made, at some effort, and released, so that there is something to
// read and to report.
func newLoad(t testing.TB, effort *atomic.Int64) (*apitest.House, *load) {
	t.Helper()
	h := apitest.Open(t, func(c *api.Config) {
		c.Planning.Plan = func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
			o.Effort = int(effort.Load())
			return scheduler.Plan(ctx, s, o)
		}
	})
	s := shoptest.Grow(*loadPieces, 1)
	if err := h.Books.Import(t.Context(), s.Encode()); err != nil {
		t.Fatal(err)
	}
	h.Clock.Set(s.Now.Time())
	plan := planned(t, h)
	planner := h.As(access.Planner)
	ask := map[string]any{"plan": plan.ID, "until": h.Clock.Now().AddDate(0, 0, 3)}
	planner.Do("POST", "/releases", ask).Must(http.StatusCreated)
	h.Admin().With("If-None-Match", "*").Do("PUT", "/dealers/tern", map[string]any{"name": "Tern (invented)"}).Must(http.StatusOK)
	l := &load{
		token: h.Admin().Header.Get("Authorization"), took: map[string][]time.Duration{}, wanted: map[int]int{},
		client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: *loadClients}},
	}
	for i := range s.Products {
		l.products = append(l.products, s.Products[i].ID)
	}
	var loads struct {
		Items []struct {
			Planned struct{ ID string }
			In      time.Time
		}
	}
	planner.Get("/loads").Must(http.StatusOK).Into(&loads)
	l.tasks = tasksOf(h, loads.Items[0].Planned.ID)
	day := loads.Items[0].In.Format(time.DateOnly)
	l.reads = []string{
		"/plans/latest", "/plans?limit=20", "/plans/1/needs", "/runs/1", "/shipping-dates", "/lines?open=true", "/orders?limit=50",
		"/notices", "/queues/tack/" + day, "/loads", "/catalog/ovens", "/mandrels", "/tick",
	}
	l.pages = []string{
		"/day", "/day?date=" + day, "/plans", "/eyes", "/plans/show/1/late", "/orders", "/orders/new", "/stock", "/crib", "/crib/pick", "/floor", "/floor/at/tack/1?date=" + day,
		"/floor/oven/" + s.Ovens[0].ID + "?date=" + day, "/history", "/catalog", "/catalog/product/" + l.products[0],
	}
	return h, l
}

// run has clients send requests for a time.
func (l *load) run(ctx context.Context, clients int, d time.Duration) {
	ctx, cancel := context.WithTimeout(ctx, d)
	defer cancel()
	var all sync.WaitGroup
	for i := range clients {
		all.Go(func() { l.work(ctx, i) })
	}
	all.Wait()
}

// work is one client: four requests of five read, and one of five of these a page.
func (l *load) work(ctx context.Context, who int) {
	dice := rand.New(rand.NewPCG(1, uint64(who)))
	for n := 0; ; n++ {
		pause := time.NewTimer(time.Duration(dice.Int64N(int64(2 * *loadPause))))
		select {
		case <-ctx.Done():
			return
		case <-pause.C:
		}
		switch dice.IntN(25) / 4 {
		case 0:
			l.send("page", "GET", l.pages[dice.IntN(len(l.pages))], nil, "")
		case 1, 2, 3, 4:
			l.send("read", "GET", l.reads[dice.IntN(len(l.reads))], nil, "")
		default:
			l.write(dice, fmt.Sprintf("%d-%d", who, n))
		}
	}
}

// write sends one change; some are sent twice, some are stale, some come too late.
func (l *load) write(dice *rand.Rand, key string) {
	product := l.products[dice.IntN(len(l.products))]
	line := map[string]any{"product": product, "quantity": 1 + dice.IntN(3), "due": "2027-06-01"}
	switch dice.IntN(5) {
	case 0, 1:
		order := map[string]any{"id": key, "dealer": "tern", "lines": []any{line}}
		for range 1 + dice.IntN(2) {
			l.send("write", "POST", "/orders", order, key)
		}
	case 2:
		task := l.tasks[dice.IntN(len(l.tasks))]
		l.send("write", "POST", fmt.Sprintf("/tasks/%d/begun", task.ID), map[string]any{}, "")
	case 3:
		l.send("write", "PATCH", "/tick", map[string]any{"release_days": dice.IntN(3)}, "")
	case 4:
		l.send("write", "POST", "/plans", nil, "")
	}
}

// number is a number in a path, in the place of which all others are as good.
var number = regexp.MustCompile(`/\d+\b`)

// send sends a request and notes how long it took, and an answer that should not be.
func (l *load) send(kind, method, path string, body any, key string) {
	text, err := json.Marshal(body)
	if err != nil {
		panic(err)
	}
	if body == nil {
		text = nil
	}
	if kind != "page" {
		path = "/api/v1" + path
	}
	r, err := http.NewRequest(method, l.url+path, bytes.NewReader(text))
	if err != nil {
		panic(err)
	}
	r.Header.Set("Authorization", l.token)
	r.Header.Set("If-Match", `"1"`)
	if kind == "page" {
		r.Header.Set("Accept", "text/html")
	}
	if text != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	if key != "" {
		r.Header.Set("Idempotency-Key", key)
	}
	begun := time.Now()
	status, answer, err := l.do(r)
	l.note(kind, method+" "+number.ReplaceAllString(path, "/N"), time.Since(begun), status, answer, err)
}

func (l *load) do(r *http.Request) (status int, text []byte, err error) {
	answer, err := l.client.Do(r)
	if err != nil {
		return 0, nil, err
	}
	text, err = io.ReadAll(answer.Body)
	return answer.StatusCode, text, errors.Join(err, answer.Body.Close())
}

func (l *load) note(kind, what string, took time.Duration, status int, text []byte, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.took[kind] = append(l.took[kind], took)
	l.took[what] = append(l.took[what], took)
	l.wanted[status]++
	again := []int{http.StatusConflict, http.StatusPreconditionFailed, http.StatusTooManyRequests}
	switch {
	case err != nil:
		l.wrong = append(l.wrong, err.Error())
	case status >= 400 && !slices.Contains(again, status):
		l.wrong = append(l.wrong, fmt.Sprintf("%s: %d %s", what, status, text))
	}
}

func (l *load) judge(t *testing.T) {
	t.Helper()
	if len(l.wrong) > 0 {
		t.Errorf("%d requests went wrong, the first: %s", len(l.wrong), l.wrong[0])
	}
	for _, what := range slices.Sorted(maps.Keys(l.took)) {
		q := quantiles(l.took[what])
		t.Logf("%6d  half %8s  95 %% %8s  99 %% %8s  all %8s  %s", len(l.took[what]), q[0], q[1], q[2], q[3], what)
	}
	t.Logf("answers by status: %v", l.wanted)
	if pages := quantiles(l.took["page"]); *loadClients >= fullLoad && pages[1] > mostForPages {
		t.Errorf("a twentieth of the pages takes %s or more, want %s at most", pages[1], mostForPages)
	}
	if reads := quantiles(l.took["read"]); *loadClients >= fullLoad && reads[2] > mostPatience {
		t.Errorf("a hundredth of the reads takes %s or more, want %s at most", reads[2], mostPatience)
	}
}

// quantiles returns what half, nineteen of twenty, ninety-nine of a hundred and all
// do not exceed.
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
