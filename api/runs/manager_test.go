package runs_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"blankwright/api/runs"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/store"
)

var byRequest = runs.Ask{Why: store.PlanByRequest}

// A run plans the books, and what it keeps is enough to make the very plan again.
func TestManager_Keeps(t *testing.T) {
	b := newBooks(late())
	m := manager(b, runs.Options{Effort: 60, Seed: 7})
	run, joined := request(t, m, byRequest)
	if joined {
		t.Error("the first request has joined a run")
	}
	end := finish(t, run)
	kept, files := b.plan(run.ID), b.files[run.ID]
	if end.Stage != runs.StageDone || end.Cost != kept.Cost.Total || kept.State != store.PlanProposal {
		t.Fatalf("the run ended %+v, the books have %+v", end, kept)
	}
	s, err := shop.Read(files.Shop)
	if err != nil {
		t.Fatal(err)
	}
	again, err := scheduler.Plan(context.Background(), s, scheduler.Options{Seed: kept.Seed, Effort: kept.Effort})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(again.Plan.Encode(), files.Plan) {
		t.Error("seed and effort give another plan than the one that is kept")
	}
	if kept.Seed != 7 || kept.Effort != 60 || kept.Late != 1 || kept.Loads != len(again.Plan.Loads) {
		t.Errorf("kept figures %+v", kept.Figures)
	}
	if raised := b.raised[run.ID]; len(raised) != 1 || raised[0].Kind != runs.NoticeLate {
		t.Errorf("raised %v, want one late line", raised)
	}
}

// Where nothing else is said, a run's seed and effort are the planner's own, and are kept.
func TestManager_OwnEffort(t *testing.T) {
	b := newBooks(small())
	m := manager(b, runs.Options{Plan: quick})
	run, _ := request(t, m, byRequest)
	finish(t, run)
	if got := b.plan(run.ID); got.Seed != scheduler.DefaultSeed || got.Effort < 1000 {
		t.Errorf("kept seed %d, effort %d", got.Seed, got.Effort)
	}
}

// A second request joins the run that goes on; one after it begins another.
func TestManager_Joins(t *testing.T) {
	g := newGate()
	m := manager(newBooks(small()), runs.Options{Plan: g.plan})
	first, _ := request(t, m, byRequest)
	<-g.came
	second, joined := request(t, m, runs.Ask{Why: store.PlanByTick})
	if !joined || second != first || m.Current() != first {
		t.Errorf("the second request got run %d, joined %t", second.ID, joined)
	}
	close(g.open)
	finish(t, first)
	if m.Current() != nil {
		t.Error("a run that is over is still the current one")
	}
	third, joined := request(t, m, byRequest)
	<-g.came
	if joined || third.ID == first.ID {
		t.Error("a request has joined a run that is over")
	}
	finish(t, third)
	if again, ok := m.Run(first.ID); !ok || again != first {
		t.Error("a run that is over cannot be looked at")
	}
}

// A quote has its own run and shop, waits for its turn, and raises nothing.
func TestManager_Quote(t *testing.T) {
	g, b := newGate(), newBooks(small())
	m := manager(b, runs.Options{Plan: g.plan})
	first, _ := request(t, m, byRequest)
	<-g.came
	quote, joined := request(t, m, runs.Ask{Why: store.PlanByQuote, Shop: late()})
	if joined || quote.Progress().Stage != runs.StageWaiting {
		t.Errorf("the quote joined: %t, is at %q", joined, quote.Progress().Stage)
	}
	g.open <- struct{}{}
	<-g.came
	if end := finish(t, first); end.Stage != runs.StageDone {
		t.Errorf("the run before the quote ended %+v", end)
	}
	if m.Current() != nil {
		t.Error("a quote can be joined")
	}
	close(g.open)
	if end := finish(t, quote); end.Stage != runs.StageDone || len(b.raised[quote.ID]) > 0 {
		t.Errorf("the quote ended %+v and raised %v", end, b.raised[quote.ID])
	}
	latest, err := m.Views().Latest(context.Background())
	if err != nil || latest.ID != first.ID {
		t.Errorf("the latest plan is %+v, %v; want %d", latest, err, first.ID)
	}
}

// There is an end to the quotes that may wait.
func TestManager_Busy(t *testing.T) {
	g := newGate()
	m := manager(newBooks(small()), runs.Options{Plan: g.plan})
	ask := runs.Ask{Why: store.PlanByQuote, Shop: small()}
	var last *runs.Run
	for range 4 {
		last, _ = request(t, m, ask)
	}
	if _, _, err := m.Request(context.Background(), ask); !errors.Is(err, runs.ErrBusy) {
		t.Errorf("a fifth quote got %v", err)
	}
	close(g.open)
	for range 4 {
		<-g.came
	}
	if err := m.Stop(context.Background()); err != nil {
		t.Fatal(err)
	}
	if end := finish(t, last); end.Stage != runs.StageDone {
		t.Errorf("the last quote ended %+v", end)
	}
}

// Who watches a run is woken by each change, and sees the planner's progress.
func TestManager_Progress(t *testing.T) {
	tell, told := make(chan scheduler.Progress), make(chan struct{})
	plan := func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		for p := range tell {
			o.Progress(p)
			told <- struct{}{}
		}
		return quick(ctx, s, scheduler.Options{})
	}
	m := manager(newBooks(small()), runs.Options{Plan: plan})
	run, _ := request(t, m, byRequest)
	wake, stop := run.Watch()
	defer stop()
	for _, test := range []struct {
		say  scheduler.Progress
		want runs.Progress
	}{
		{scheduler.Progress{Effort: 90}, runs.Progress{Of: 90}},
		{scheduler.Progress{Effort: 90, Cost: 8}, runs.Progress{Of: 90, Cost: 8, Gap: 1}},
		{scheduler.Progress{Effort: 90, Iteration: 30, Cost: 5, Bound: 4}, runs.Progress{Of: 90, Iterations: 30, Cost: 5, Bound: 4, Gap: 0.2}},
	} {
		tell <- test.say
		<-told
		<-wake
		test.want.Stage = runs.StagePlanning
		if got := run.Progress(); got != test.want {
			t.Errorf("after %+v: %+v, want %+v", test.say, got, test.want)
		}
	}
	close(tell)
	finish(t, run)
}

// A stop ends the search by its hook and keeps what it has; after it nothing begins.
func TestManager_Stop(t *testing.T) {
	searching := make(chan struct{})
	plan := func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		close(searching)
		for !o.Stop() {
			continue
		}
		return quick(ctx, s, scheduler.Options{})
	}
	b := newBooks(small())
	m := manager(b, runs.Options{Plan: plan})
	ctx, cancel := context.WithCancel(context.Background())
	run, _, err := m.Request(ctx, byRequest)
	if err != nil {
		t.Fatal(err)
	}
	cancel() // who asked has gone away
	<-searching
	if err := m.Stop(context.Background()); err != nil {
		t.Fatal(err)
	}
	if got := b.plan(run.ID); got.State != store.PlanProposal {
		t.Errorf("the books have %+v", got)
	}
	if _, _, err := m.Request(context.Background(), byRequest); !errors.Is(err, runs.ErrStopping) {
		t.Errorf("a request after the stop got %v", err)
	}
}

// A run that somebody stops keeps what it has, and others are as long as they are.
func TestRun_Stop(t *testing.T) {
	searching := make(chan struct{}, 1)
	plan := func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		searching <- struct{}{}
		for !o.Stop() {
			continue
		}
		return quick(ctx, s, scheduler.Options{})
	}
	b := newBooks(small())
	m := manager(b, runs.Options{Plan: plan})
	for range 2 {
		run, joined := request(t, m, byRequest)
		<-searching
		run.Stop()
		if end := finish(t, run); joined || end.Stage != runs.StageDone || b.plan(run.ID).State != store.PlanProposal {
			t.Errorf("ended %+v, joined %t", end, joined)
		}
	}
}

// A search ends at its limit on the clock.
func TestManager_Limit(t *testing.T) {
	var second atomic.Int64
	now := func() time.Time { return time.Unix(second.Add(1), 0) }
	polls := 0
	plan := func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		for !o.Stop() {
			polls++
		}
		return quick(ctx, s, scheduler.Options{})
	}
	m := manager(newBooks(small()), runs.Options{Plan: plan, Now: now, Limit: 10 * time.Second})
	run, _ := request(t, m, byRequest)
	if end := finish(t, run); end.Stage != runs.StageDone || polls != 9 {
		t.Errorf("ended %+v after %d polls, want 9: the tenth is a limit later", end, polls)
	}
}

// What goes wrong ends one run, is told, and leaves the plan before as it is.
func TestManager_Failures(t *testing.T) {
	refuse := func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error) { return nil, errTest }
	breach := func(ctx context.Context, s *shop.Shop, _ scheduler.Options) (*scheduler.Result, error) {
		r, err := quick(ctx, s, scheduler.Options{})
		r.Plan.Tasks[0].Pieces++
		return r, err
	}
	panics := func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error) {
		panic("off the table")
	}
	tests := []struct {
		name  string
		plan  runs.Planner
		stock error
		want  string
	}{
		{"taking stock", quick, errTest, "taking stock: the books are wet"},
		{"the planner refuses", refuse, nil, "planning: the books are wet"},
		{"a plan that breaks rules", breach, nil, "it is not kept"},
		{"a panic", panics, nil, "the planner broke off: off the table"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b, planner := newBooks(small()), runs.Planner(quick)
			plan := func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
				return planner(ctx, s, o)
			}
			m := manager(b, runs.Options{Plan: plan})
			good, _ := request(t, m, byRequest)
			finish(t, good)
			b.trouble, planner = test.stock, test.plan
			bad, _ := request(t, m, byRequest)
			if end := finish(t, bad); end.Stage != runs.StageFailed || !strings.Contains(end.Failure, test.want) {
				t.Errorf("ended %+v, want %q", end, test.want)
			}
			if got := b.plan(bad.ID); got.State != store.PlanFailed || !strings.Contains(got.Failure, test.want) {
				t.Errorf("the books have %+v", got)
			}
			if latest, err := m.Views().Latest(context.Background()); err != nil || latest.ID != good.ID {
				t.Errorf("the latest plan is %v, %v", latest, err)
			}
			b.trouble, planner = nil, quick
			next, _ := request(t, m, byRequest)
			if end := finish(t, next); end.Stage != runs.StageDone {
				t.Errorf("the next run ended %+v", end)
			}
		})
	}
}

// Plans that were being made when a server ended have failed when the next begins.
func TestManager_Begin(t *testing.T) {
	b := newBooks(small())
	if _, err := b.BeginPlan(context.Background(), store.PlanByTick); err != nil {
		t.Fatal(err)
	}
	if err := manager(b, runs.Options{}).Begin(context.Background()); err != nil || b.plan(1).State != store.PlanFailed {
		t.Errorf("plan 1 is %+v, %v", b.plan(1), err)
	}
}

// Views keeps the plans that were looked at last, and tells of one that is not there.
func TestViews(t *testing.T) {
	b := newBooks(shoptest.Accepted(small()))
	m := manager(b, runs.Options{Plan: quick})
	ctx := context.Background()
	if _, err := m.Views().Latest(ctx); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("empty books: %v", err)
	}
	for range 10 {
		run, _ := request(t, m, byRequest)
		finish(t, run)
	}
	first, err := m.Views().Plan(ctx, 1)
	if err != nil || len(first.Shippings) != 2 || *first.Shippings[0].Ship > first.Shippings[0].Line.Due {
		t.Fatalf("plan 1: %+v, %v", first, err)
	}
	if again, _ := m.Views().Plan(ctx, 1); again != first {
		t.Error("a plan was read twice")
	}
	for id := int64(2); id <= 9; id++ {
		if _, err := m.Views().Plan(ctx, id); err != nil {
			t.Errorf("plan %d: %v", id, err)
		}
	}
	if again, _ := m.Views().Plan(ctx, 1); again == first {
		t.Error("more plans are kept than should be")
	}
	if _, err := m.Views().Plan(ctx, 99); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("plan 99: %v", err)
	}
}
