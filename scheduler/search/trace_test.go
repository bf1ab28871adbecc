package search_test

import (
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shoptest"
)

// starts returns first answers for a shop of some hundred pieces.
func starts(n int) (list []*answer.Answer) {
	in := instance.New(shoptest.Accepted(shoptest.Grow(7, 400)))
	for _, rule := range construct.Rules[:n] {
		list = append(list, construct.Build(in, rule, nil))
	}
	return list
}

// Every iteration is some move's turn, each count is a part of the one before,
// and the gains make up what lies between the islands' first and best answers,
// those that gave up included: also where the effort does not divide by the
// islands.
func TestTrace_Totals(t *testing.T) {
	if testing.Short() {
		t.Skip("TestTrace_Processors searches on as many islands")
	}
	for _, c := range []struct{ islands, effort int }{{2, 0}, {2, 1}, {2, 997}, {6, 12000}} {
		_, trace := search.Improve(starts(c.islands), search.Options{Seed: 3, Effort: c.effort})
		drawn, gain := 0, answer.Money(0)
		for _, m := range trace.Moves {
			drawn, gain = drawn+m.Drawn, gain+m.Gain
			if m.Drawn < m.Proposed || m.Proposed < m.Placed || m.Placed < m.Kept || m.Kept < m.Bettered || m.Gain < 0 {
				t.Errorf("%+v: %+v has more in a part than in the whole", c, m)
			}
		}
		if drawn != trace.Iterations || drawn > c.effort || drawn < c.effort-4*c.islands {
			t.Errorf("%+v: %d moves drawn, %d iterations", c, drawn, trace.Iterations)
		}
		if fell := fallOf(trace); gain+trace.Adopted != fell {
			t.Errorf("%+v: the moves' gains and what was adopted are %d, the islands' best answers fell by %d", c, gain+trace.Adopted, fell)
		}
	}
}

// fallOf sums by how much the best answers of all islands fell, as the points
// tell it.
func fallOf(trace *search.Trace) (sum answer.Money) {
	first, last := map[int]answer.Money{}, map[int]answer.Money{}
	for _, p := range trace.Points {
		if _, known := first[p.Island]; !known {
			first[p.Island] = p.Current
		}
		last[p.Island] = p.Best
	}
	for island := range first {
		sum += first[island] - last[island]
	}
	return sum
}

// A heat's points begin and end with it, and no island's best gets worse.
func TestTrace_Points(t *testing.T) {
	if testing.Short() {
		t.Skip("TestTrace_Processors searches on as many islands")
	}
	_, trace := search.Improve(starts(2), search.Options{Seed: 1, Effort: 12000})
	heats := 0
	var before search.Point
	for _, p := range trace.Points {
		switch {
		case p.Heat == before.Heat && p.Island == before.Island:
			if p.Iteration <= before.Iteration || p.Best > before.Best || p.Current < p.Best {
				t.Errorf("%+v follows %+v", p, before)
			}
		case p.Heat < before.Heat || p.Heat == before.Heat && p.Island < before.Island:
			t.Errorf("%+v follows %+v", p, before)
		default:
			heats++
		}
		before = p
	}
	// Two islands go through both heats: 1,200 + 10,800 iterations, a half of each
	// to each of them.
	if heats != 4 || before.Iteration != 6000 {
		t.Errorf("%d heats of islands, the last of which ends at %d; want 4 and 6000", heats, before.Iteration)
	}
}

// The number of processors changes nothing in a trace.
func TestTrace_Processors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var traces []*search.Trace
	for _, processors := range []int{1, 8} {
		runtime.GOMAXPROCS(processors)
		_, trace := search.Improve(starts(5), search.Options{Seed: 9, Effort: 6000})
		traces = append(traces, trace)
	}
	if diff := cmp.Diff(traces[0], traces[1]); diff != "" {
		t.Errorf("1 and 8 processors (-1 +8):\n%s", diff)
	}
}
