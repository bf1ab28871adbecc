package move_test

import (
	"testing"

	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shoptest"
)

// Barter leaves each load as many pieces on a mandrel type as it had, and all loads
// together what they carry; where no two sections share mandrels it has nothing to
// propose.
func TestBarter(t *testing.T) {
	s := shoptest.Bare()
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1"))
	shoptest.AddLine(s, "P", 3, 0, 1)
	shoptest.AddLine(s, "Q", 2, 0, 5)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 3}}, []rack.Run{{Section: 1, Pieces: 2}})
	all := proposals(a, move.Barter{})
	for _, c := range all {
		in, out := pieces(a.In, c.In), pieces(a.In, c.Out)
		if len(c.Out) != 2 || len(c.In) != 2 || in["S"] != out["S"] || in["Q1"] != out["Q1"] {
			t.Fatalf("%v for %v", in, out)
		}
		for i, l := range c.In {
			if was, is := total(c.Out[i].Runs), total(l.Runs); was != is {
				t.Errorf("a load of %d pieces has %d", was, is)
			}
		}
	}
	if len(all) == 0 {
		t.Error("nothing is proposed")
	}
	a.In.Sections[1].Mandrel++
	if all := proposals(a, move.Barter{}); len(all) > 0 {
		t.Errorf("%d proposals where no mandrels are shared", len(all))
	}
}

func total(runs []rack.Run) (n int) {
	for _, run := range runs {
		n += run.Pieces
	}
	return n
}
