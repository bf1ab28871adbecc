package scheduler_test

import (
	"bytes"
	"context"
	"errors"
	"math"
	"runtime"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// planned plans a shop as its file reads, and judges the result.
func planned(t tester, s *shop.Shop, o scheduler.Options) *scheduler.Result {
	t.Helper()
	s = shoptest.Accepted(s)
	r, err := scheduler.Plan(context.Background(), s, o)
	if err != nil {
		t.Fatalf("%s: %v", s.Name, err)
	}
	judge(t, s, r)
	return r
}

// judge holds a result to what Plan promises: the plan is valid, its bound is no
// more than its cost, its costs are those of the checker's recount and the sum
// of its terms, and its file reads as it was written.
func judge(t tester, s *shop.Shop, r *scheduler.Result) {
	t.Helper()
	report := check.Plan(s, r.Plan)
	for _, breach := range report.Breaches {
		t.Errorf("%s: %s", s.Name, breach)
	}
	// The plan states no bound above its cost; what the terms prove might be.
	low := 0.0
	for _, term := range r.Terms {
		low += term.Bound
	}
	if low > r.Plan.Cost.Total+1e-6 || r.Plan.Bound.Total > r.Plan.Cost.Total {
		t.Errorf("%s: bound %g, stated as %g, cost %g", s.Name, low, r.Plan.Bound.Total, r.Plan.Cost.Total)
	}
	// The planner counts in whole money, far smaller than the contract's 0.01.
	if diff := cmp.Diff(report.Cost, r.Plan.Cost, cmp.Comparer(equalCost)); diff != "" {
		t.Errorf("%s: cost recounted (-) and stated (+):\n%s", s.Name, diff)
	}
	terms := 0.0
	for _, term := range r.Terms {
		terms += term.Cost
	}
	if !equalCost(terms, r.Plan.Cost.Total) {
		t.Errorf("%s: the terms' costs sum up to %g, not %g", s.Name, terms, r.Plan.Cost.Total)
	}
	written := r.Plan.Encode()
	read, err := plan.Read(written, s)
	if err != nil {
		t.Errorf("%s: %v", s.Name, err)
	} else if !bytes.Equal(read.Encode(), written) {
		t.Errorf("%s: the plan reads back as another", s.Name)
	}
}

func equalCost(a, b float64) bool { return math.Abs(a-b) <= 1e-5+1e-8*math.Abs(b) }

// procs lets a test's goroutines run on so many processors.
func procs(t *testing.T, n int) {
	old := runtime.GOMAXPROCS(n)
	t.Cleanup(func() { runtime.GOMAXPROCS(old) })
}

// A search half of whose time is over as it begins its second iteration cools down with
// the time, and counts as ended early; one that has time enough is the same as without
// a limit.
func TestPlan_Spent(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}))
	o := scheduler.Options{Seed: 7, Effort: 300}
	free := planned(t, s, o)
	o.Spent = func() float64 { return 0 }
	if ample := planned(t, s, o); !bytes.Equal(ample.Plan.Encode(), free.Plan.Encode()) || ample.Stopped != scheduler.ByEffort {
		t.Errorf("with time enough it ends by %s, and is another plan than without a limit, or by %s", ample.Stopped, free.Stopped)
	}
	var asked atomic.Int64
	o.Spent = func() float64 {
		if asked.Add(1) < 4 { // once of them by the first answers
			return 0
		}
		return 0.5
	}
	if short := planned(t, s, o); short.Stopped != scheduler.ByStop {
		t.Errorf("with half of the time over at once it ends by %s, want %s", short.Stopped, scheduler.ByStop)
	}
}

// A search that fills its time goes on where its effort is spent, for nine tenths of it,
// and its plan costs no more than that of the effort; without a time it says nothing.
func TestPlan_Fill(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}))
	o := scheduler.Options{Seed: 7, Effort: 100, Fill: true}
	plain := planned(t, s, o)
	var asked atomic.Int64
	o.Spent = func() float64 { return min(1, float64(asked.Add(1))/4000) }
	filled := planned(t, s, o)
	if plain.Stopped != scheduler.ByEffort || filled.Stopped != scheduler.ByTime {
		t.Errorf("ended by %s without a time and by %s with one, want %s and %s", plain.Stopped, filled.Stopped, scheduler.ByEffort, scheduler.ByTime)
	}
	if n := asked.Load(); filled.Iterations < 700 || n < 3600 || n > 3700 { // seven tenths may go to first answers
		t.Errorf("%d iterations and the time asked for %d times, want it filled up to 3,600", filled.Iterations, n)
	}
	if filled.Plan.Cost.Total > plain.Plan.Cost.Total {
		t.Errorf("costs %g, and %g with its effort alone", filled.Plan.Cost.Total, plain.Plan.Cost.Total)
	}
}

// However much effort is asked for, first answers are made in a moment and the search
// of the whole begins.
func TestPlan_MuchEffort(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}))
	var begun atomic.Bool
	r := planned(t, s, scheduler.Options{Effort: 1 << 40, Stop: begun.Load, Progress: func(p scheduler.Progress) {
		if p.Iteration > 0 {
			begun.Store(true)
		}
	}})
	if r.Iterations == 0 || r.Stopped != scheduler.ByStop {
		t.Errorf("ended by %s after %d iterations", r.Stopped, r.Iterations)
	}
}

// A search asks before each try whether it shall leave the processors to others, and
// is none other for it.
func TestPlan_Yield(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}))
	o := scheduler.Options{Seed: 7, Effort: 300}
	want := planned(t, s, o)
	var asked atomic.Int64
	o.Yield = func() { asked.Add(1) }
	got := planned(t, s, o)
	if n := int(asked.Load()); n != got.Iterations || !bytes.Equal(got.Plan.Encode(), want.Plan.Encode()) {
		t.Errorf("asked %d times in %d iterations; the same plan: %t", n, got.Iterations, bytes.Equal(got.Plan.Encode(), want.Plan.Encode()))
	}
}

// The same shop, seed and effort give the same plan to the byte, again and on
// any number of processors.
func TestPlan_Deterministic(t *testing.T) {
	shops := []*shop.Shop{
		shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}),
		shoptest.Grow(500, 3),
		shoptest.Hopeless(shoptest.GiantOrder, 2),
	}
	if testing.Short() {
		shops = shops[:1]
	}
	for _, s := range shops {
		s = shoptest.Accepted(s)
		o := scheduler.Options{Seed: 7, Effort: 300}
		want := planned(t, s, o).Plan.Encode()
		for _, n := range []int{1, 2, 8} {
			procs(t, n)
			for range thorough.Of(1, 2) {
				if !bytes.Equal(planned(t, s, o).Plan.Encode(), want) {
					t.Errorf("%s: another plan on %d processors", s.Name, n)
				}
			}
		}
	}
}

// The seed counts: among a few seeds, some search ends elsewhere.
func TestPlan_SeedCounts(t *testing.T) {
	s := shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120})
	first := planned(t, s, scheduler.Options{Seed: 1, Effort: 300}).Plan.Encode()
	for seed := range uint64(4) {
		if !bytes.Equal(planned(t, s, scheduler.Options{Seed: seed + 2, Effort: 300}).Plan.Encode(), first) {
			return
		}
	}
	t.Error("five seeds give the same plan")
}

// What is left out of the options is the default seed and, below zero, the
// default effort.
func TestPlan_Defaults(t *testing.T) {
	leftOutShort(t)
	s := shoptest.Tiny(5)
	got := planned(t, s, scheduler.Options{Effort: -1})
	effort := scheduler.DefaultEffort(instance.New(shoptest.Accepted(s)))
	want := planned(t, s, scheduler.Options{Seed: scheduler.DefaultSeed, Effort: effort})
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("by default (-) and in words (+):\n%s", diff)
	}
	const odd = 32 // iterations that cannot be shared evenly
	if got.Iterations > effort || got.Iterations < effort-odd || got.Stopped != scheduler.ByEffort {
		t.Errorf("%d iterations, stopped by %s", got.Iterations, got.Stopped)
	}
}

// A search does not begin where the first answer is proven to be the cheapest.
func TestPlan_EndsAtTheBound(t *testing.T) {
	s := shoptest.Accepted(bins(10, map[float64]int{6: 4}))
	r := planned(t, s, scheduler.Options{Effort: 5000})
	if r.Stopped != scheduler.ByBound || r.Iterations > 0 || r.Plan.Bound.Gap > 1e-6 {
		t.Errorf("stopped by %s after %d iterations, with a gap of %g", r.Stopped, r.Iterations, r.Plan.Bound.Gap)
	}
}

// A search never ends worse than the first answer that it starts from.
func TestPlan_EffortNeverCosts(t *testing.T) {
	leftOutShort(t)
	better := 0
	for seed := range thorough.Of[uint64](8, 25) {
		s := shoptest.Make(seed, shoptest.Size{Pieces: 60})
		start := planned(t, s, scheduler.Options{Seed: seed + 1}).Plan.Cost.Total
		for _, effort := range []int{1, 20, 150} {
			cost := planned(t, s, scheduler.Options{Seed: seed + 1, Effort: effort}).Plan.Cost.Total
			if cost > start {
				t.Errorf("shop %d: effort %d costs %g, none %g", seed, effort, cost, start)
			}
			if cost < start {
				better++
			}
		}
	}
	if better == 0 {
		t.Error("no search has found anything")
	}
}

// Plan leaves its shop as it was.
func TestPlan_KeepsTheShop(t *testing.T) {
	leftOutShort(t)
	for seed := range uint64(10) {
		s := shoptest.Accepted(shoptest.Make(seed, shoptest.Size{}))
		before := s.Encode()
		planned(t, s, scheduler.Options{Effort: 50})
		if !bytes.Equal(s.Encode(), before) {
			t.Errorf("shop %d has changed", seed)
		}
	}
}

// Where Stop says so, the search ends early, with a valid plan.
func TestPlan_Stop(t *testing.T) {
	s := shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120})
	for _, after := range []int{0, 1, 10, 20} {
		asked := 0
		r := planned(t, s, scheduler.Options{Effort: 5000, Stop: func() bool { asked++; return asked > after }})
		if r.Stopped != scheduler.ByStop || r.Iterations >= 5000 {
			t.Errorf("after %d: stopped by %s after %d iterations", after, r.Stopped, r.Iterations)
		}
	}
}

// A context that has ended before there is a plan is an error; one that ends
// later ends the search.
func TestPlan_Context(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120}))
	ctx, cancel := context.WithCancel(context.Background())
	r, err := scheduler.Plan(ctx, s, scheduler.Options{Effort: 5000, Progress: func(scheduler.Progress) { cancel() }})
	if err != nil || r.Stopped != scheduler.ByStop || r.Iterations >= 5000 {
		t.Fatalf("cancelled while it searched: %+v, %v", r, err)
	}
	judge(t, s, r)
	if r, err := scheduler.Plan(ctx, s, scheduler.Options{}); r != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before it began: %v, %v", r, err)
	}
}

// Progress goes forward: from a first answer on, iterations grow up to the effort,
// the best cost falls to about the plan's, and the bound is that once it is proven.
func TestPlan_Progress(t *testing.T) {
	s := shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120})
	var got []scheduler.Progress
	r := planned(t, s, scheduler.Options{Effort: 1000, Progress: func(p scheduler.Progress) { got = append(got, p) }})
	if len(got) < 5 {
		t.Fatalf("%d reports", len(got))
	}
	if got[0].Iteration != 0 {
		t.Errorf("first report: %+v", got[0])
	}
	bound := r.Plan.Bound.Total
	for i, p := range got {
		proven := p.Bound == 0 || equalCost(p.Bound, bound)
		if p.Effort != 1000 || p.Iteration > p.Effort || !proven || p.Cost < r.Plan.Cost.Total-1e-6 {
			t.Errorf("report %d: %+v of a plan that costs %g, at least %g", i, p, r.Plan.Cost.Total, bound)
		}
		if i == 0 {
			continue
		}
		if last := got[i-1]; p.Iteration < last.Iteration || p.Iteration > 0 && p.Iteration == last.Iteration || p.Cost > last.Cost || p.Bound < last.Bound {
			t.Errorf("report %d: %+v after %+v", i, p, last)
		}
	}
}

// A shop that is stopped while its first answer is made gets that as far as it is.
func TestPlan_StoppedInTheFirstAnswer(t *testing.T) {
	leftOutShort(t)
	s := shoptest.Grow(500, 1)
	fixed := 0
	if s.Released != nil {
		fixed = len(s.Released.Loads)
	}
	for _, c := range []struct{ asked, least, most int }{{0, 0, 0}, {1, 0, 1}, {30, 1, 30}, {1000, 6, 100}} {
		asked := 0
		r := planned(t, s, scheduler.Options{Effort: 0, Stop: func() bool { asked++; return asked > c.asked }})
		if n := len(r.Plan.Loads) - fixed; n < c.least || n > c.most {
			t.Errorf("stopped when asked for the %d-th time: %d loads, want %d to %d", c.asked+1, n, c.least, c.most)
		}
	}
}

// The result tells of each line that is late or left out, set by set.
func TestPlan_TellsOfLateLines(t *testing.T) {
	leftOutShort(t)
	told := 0
	for seed := range thorough.Of[uint64](8, 20) {
		s := shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Impossible: 0.3}))
		r := planned(t, s, scheduler.Options{Effort: 20})
		sets := 0
		for _, l := range r.Lines {
			sets += l.LateSets + l.UnallocatedSets
		}
		// Sets that wait for the rest of their order may count as either.
		if report := check.Plan(s, r.Plan); sets != report.LateSets+report.UnallocatedSets {
			t.Errorf("shop %d: told of %d sets that are late or left out, of %d", seed, sets, report.LateSets+report.UnallocatedSets)
		}
		told += sets
	}
	if told == 0 {
		t.Error("no line is late in any shop")
	}
}
