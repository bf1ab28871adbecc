package move_test

import (
	"math/rand/v2"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// pieces lists what loads carry, by section.
func pieces(in *instance.Instance, loads []*line.Load) map[string]int {
	n := map[string]int{}
	for _, l := range loads {
		for _, run := range l.Runs {
			n[in.Sections[run.Section].ID] += run.Pieces
		}
	}
	return n
}

// begin returns an answer to a shop with a load for each list of runs.
func begin(t *testing.T, s *shop.Shop, loads ...[]rack.Run) *answer.Answer {
	t.Helper()
	a := answer.New(instance.New(shoptest.Accepted(s)))
	for _, runs := range loads {
		l, ok := line.NewLoad(a.In, a.NewID(), 0, 0, runs)
		if !ok || !a.Try(answer.Change{In: []*line.Load{l}}) {
			t.Fatalf("%v find no place", runs)
		}
		a.Keep()
	}
	return a
}

// proposals returns what a move proposes with some seeds.
func proposals(a *answer.Answer, m move.Move) (all []answer.Change) {
	for seed := range uint64(200) {
		if c, ok := m.Propose(a, rand.New(rand.NewPCG(seed, 0))); ok {
			all = append(all, c)
		}
	}
	return all
}

// Replace puts a whole set of two sections, in as many loads as it needs, in the
// place of what another product has in two loads.
func TestReplace(t *testing.T) {
	s := shoptest.Bare()
	s.Racks[0].Setups[0].Levels[0].Pegs = 1
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1", "Q2"))
	shoptest.AddLine(s, "P", 2, 0, 1)
	shoptest.AddLine(s, "Q", 1, 0, 5)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 1}}, []rack.Run{{Section: 0, Pieces: 1}})
	found := false
	for _, c := range proposals(a, move.Replace{}) {
		in := pieces(a.In, c.In)
		if in["S"] > 0 || in["Q1"] > 1 || in["Q2"] > 1 {
			t.Errorf("%v replace %v", in, pieces(a.In, c.Out))
		}
		found = found || len(c.Out) == 2 && in["Q1"] == 1 && in["Q2"] == 1
	}
	if !found {
		t.Error("no proposal makes the set of Q in the place of those of P")
	}
}

// Where no piece is spare, Replace and Start have nothing to propose.
func TestReplace_NothingSpare(t *testing.T) {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 2, 0, 1)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 2}})
	for _, m := range []move.Move{move.Replace{}, move.Start{}} {
		if all := proposals(a, m); len(all) > 0 {
			t.Errorf("%s proposes %v for %v", m.Name(), pieces(a.In, all[0].In), pieces(a.In, all[0].Out))
		}
	}
}
