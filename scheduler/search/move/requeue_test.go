package move_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shoptest"
)

// inTurn returns an answer to a shop with two ovens and one mandrel, whose cure takes
// a day: a load of P, then one of Q, which is the only one that is due.
func inTurn(t *testing.T) *answer.Answer {
	t.Helper()
	s := shoptest.Bare()
	s.Profiles[0] = shoptest.BareProfile("cure", 1380)
	s.Ovens = append(s.Ovens, shoptest.BareOven("other", "cure"))
	s.Mandrels = nil
	shoptest.AddMandrels(s, "mandrel", 1)
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1"))
	shoptest.AddLine(s, "P", 1, 9, 1)
	shoptest.AddLine(s, "Q", 1, 0, 5)
	return begin(t, s, []rack.Run{{Section: 0, Pieces: 1}}, []rack.Run{{Section: 1, Pieces: 1}})
}

// Of two loads that want the one mandrel, the urgent one gets it first.
func TestRequeue(t *testing.T) {
	a := inTurn(t)
	late := a.LateOf(1)
	for _, c := range proposals(a, move.Requeue{}) {
		if len(c.Out) != 2 || !slices.Equal(sorts(c.Out), sorts(c.In)) {
			t.Fatalf("%d loads out, %d in; want the two", len(c.Out), len(c.In))
		}
		if !a.Try(c) {
			continue
		}
		if a.LateOf(1) < late {
			return
		}
		a.Undo()
	}
	t.Error("no proposal lets the urgent load go first")
}

// sorts returns what sections loads carry.
func sorts(loads []*line.Load) (list []int) {
	for _, l := range loads {
		list = append(list, l.Runs[0].Section)
	}
	slices.Sort(list)
	return list
}
