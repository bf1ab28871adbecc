package move_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shop"
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

// When the first of two loads that want the one mandrel leaves, the other comes along
// and takes its place.
func TestAlong(t *testing.T) {
	a := inTurn(t)
	first, second := a.Loads[0], a.Loads[1]
	if first.In > second.In {
		first, second = second, first
	}
	c := move.Along(a, rand.New(rand.NewPCG(1, 0)), answer.Change{Out: []*line.Load{first}})
	if len(c.Out) != 2 || c.Out[1] != second || len(c.In) != 1 {
		t.Fatalf("%d loads out, %d in; want both out and the second in", len(c.Out), len(c.In))
	}
	if !a.Try(c) || c.In[0].In != first.In {
		t.Errorf("the second goes in at %d, want %d", c.In[0].In, first.In)
	}
}

// What wants other mandrels stays where it is.
func TestAlong_OtherMandrels(t *testing.T) {
	s := shoptest.Bare()
	s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: "own", HangMM: s.MandrelTypes[0].HangMM})
	shoptest.AddMandrels(s, "own", 1)
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1"))
	s.Products[1].Sections[0].Mandrel = "own"
	shoptest.AddLine(s, "P", 1, 0, 1)
	shoptest.AddLine(s, "Q", 1, 0, 1)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 1}}, []rack.Run{{Section: 1, Pieces: 1}})
	c := answer.Change{Out: a.Loads[:1]}
	if got := move.Along(a, rand.New(rand.NewPCG(1, 0)), c); len(got.Out) != 1 || len(got.In) != 0 {
		t.Errorf("%d loads come along, want none", len(got.In))
	}
}
