package move_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shoptest"
)

// Precede moves a load, or starts what is spare, and places loads that it does not
// change otherwise after that.
func TestPrecede(t *testing.T) {
	s := shoptest.Bare()
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1"))
	shoptest.AddLine(s, "P", 5, 0, 1)
	shoptest.AddLine(s, "Q", 1, 0, 1)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 2}}, []rack.Run{{Section: 0, Pieces: 3}})
	moved, started := 0, 0
	for _, c := range proposals(a, move.Precede{}) {
		in, out := pieces(a.In, c.In), pieces(a.In, c.Out)
		if !c.InTurn || len(c.In) < 2 || in["S"] != out["S"] || in["Q1"]+out["Q1"] > 1 {
			t.Fatalf("%v for %v, in turn: %t", in, out, c.InTurn)
		}
		if in["Q1"] == 1 {
			started++
		} else {
			moved++
		}
		for _, l := range c.In[1:] {
			if !slices.ContainsFunc(c.Out, func(was *line.Load) bool { return slices.Equal(was.Runs, l.Runs) && was.Target == l.Target }) {
				t.Errorf("%v from %d on was no load before", l.Runs, l.Target)
			}
		}
	}
	if moved == 0 || started == 0 {
		t.Errorf("%d proposals move a load, %d start what is spare", moved, started)
	}
}

// A load has nothing to precede where there is no other.
func TestPrecede_Alone(t *testing.T) {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 1, 0, 1)
	for _, loads := range [][][]rack.Run{nil, {{{Section: 0, Pieces: 1}}}} {
		if all := proposals(begin(t, s, loads...), move.Precede{}); len(all) > 0 {
			t.Errorf("%d proposals with %d loads", len(all), len(loads))
		}
	}
}
