package move_test

import (
	"testing"

	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shoptest"
)

// Start begins a set that no load takes whole in several loads at once.
func TestStart_SetInSeveralLoads(t *testing.T) {
	s := shoptest.Bare()
	s.Racks[0].Setups[0].Levels[0].Pegs = 2
	s.Products[0] = shoptest.BareProduct("P", "A", "B", "C")
	shoptest.AddLine(s, "P", 1, 0, 1)
	a := begin(t, s)
	found := false
	for _, c := range proposals(a, move.Start{}) {
		in := pieces(a.In, c.In)
		found = found || len(c.In) == 2 && in["A"] == 1 && in["B"] == 1 && in["C"] == 1
	}
	if !found {
		t.Error("no proposal makes all of the set")
	}
}
