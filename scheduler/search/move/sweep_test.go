package move_test

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// swept returns by how much the change of a sweep that pays most lowers the cost
// of an answer, and which it is. All it proposes can be tried and undone.
func swept(t *testing.T, a *answer.Answer, name string) (best answer.Money, change answer.Change) {
	t.Helper()
	concerns := func(p int) bool { return a.LateOf(p) > 0 }
	for _, s := range move.Sweeps() {
		if s.Name != name {
			continue
		}
		for c := range s.All(a, concerns) {
			before := a.Cost().Total()
			if !a.Try(c) {
				continue
			}
			if gain := before - a.Cost().Total(); gain > best {
				best, change = gain, c
			}
			a.Undo()
			if a.Cost().Total() != before {
				t.Fatalf("%s: undone, and it costs %d instead of %d", name, a.Cost().Total(), before)
			}
		}
	}
	return best, change
}

// twoDays returns an answer to a bare shop whose cure takes a day, with room for
// four pieces: loads of P that go in as soon as they can from a day on.
func twoDays(t *testing.T, s *shop.Shop, sets, day int, loads ...int) *answer.Answer {
	t.Helper()
	s.Profiles[0] = shoptest.BareProfile("cure", 1380)
	s.Racks[0].Setups[0].Levels[0].Pegs = 4
	shoptest.AddLine(s, "P", sets, 0, 1)
	a := begin(t, s)
	for _, n := range loads {
		l, ok := line.NewLoad(a.In, a.NewID(), 0, 0, []rack.Run{{Section: 0, Pieces: n}})
		if l.Target = day * 1440; !ok || !a.Try(answer.Change{In: []*line.Load{l}}) {
			t.Fatalf("%d pieces find no place", n)
		}
		a.Keep()
	}
	return a
}

// A load that stands two days later than it must is placed sooner: its three sets
// cost two days each less.
func TestSweep_PlaceSooner(t *testing.T) {
	a := twoDays(t, shoptest.Bare(), 3, 2, 3)
	if gain, _ := swept(t, a, "place sooner"); gain != 6*a.In.Lines[0].LatePrice {
		t.Errorf("gains %d, want 6 late days", gain)
	}
}

// Where another oven is free, a load behind another goes in there: one day for
// each of its three sets.
func TestSweep_PlaceSoonerElsewhere(t *testing.T) {
	s := shoptest.Bare()
	s.Ovens = append(s.Ovens, shoptest.BareOven("other", "cure"))
	a := twoDays(t, s, 6, 0, 3, 3)
	gain, c := swept(t, a, "place sooner")
	if gain != 3*a.In.Lines[0].LatePrice || c.In[0].Oven != 1 {
		t.Errorf("gains %d by %+v, want 3 late days in the other oven", gain, c)
	}
}

// Two loads that follow each other two days late come forward together.
func TestSweep_Squeeze(t *testing.T) {
	for _, name := range []string{"squeeze four", "squeeze eight"} {
		a := twoDays(t, shoptest.Bare(), 6, 2, 3, 3)
		if gain, c := swept(t, a, name); gain < 6*a.In.Lines[0].LatePrice || len(c.In) != 2 {
			t.Errorf("%s: gains %d with %d loads, want a day of each of six sets with two", name, gain, len(c.In))
		}
	}
}

// The load before has room for one of the three pieces behind it, which is a day
// sooner there.
func TestSweep_GiveForward(t *testing.T) {
	a := twoDays(t, shoptest.Bare(), 6, 0, 3, 3)
	gain, c := swept(t, a, "give forward")
	if got := pieces(a.In, c.Out)["S"]; gain != a.In.Lines[0].LatePrice || got != 6 || c.In[0].Runs[0].Pieces != 4 {
		t.Errorf("gains %d, %d pieces out, %+v in; want one late day for a load of four", gain, got, c.In)
	}
}

// Late pieces leave those that are not, for a load of their own in a free oven.
func TestSweep_GiveForwardApart(t *testing.T) {
	s := shoptest.Bare()
	s.Products = append(s.Products, shoptest.BareProduct("Q", "Q1"))
	s.Products[1].Sections[0].Minutes.Tack = 3000 // two days of work
	shoptest.AddLine(s, "P", 1, 0, 1)
	shoptest.AddLine(s, "Q", 1, 9, 1)
	a := begin(t, s, []rack.Run{{Section: 0, Pieces: 1}, {Section: 1, Pieces: 1}})
	gain, c := swept(t, a, "give forward")
	if gain != 2*a.In.Lines[0].LatePrice || len(c.In) != 2 {
		t.Errorf("gains %d with %d loads, want two late days with two", gain, len(c.In))
	}
}

// Spare pieces are started: five in a shop whose racks take four, so that no one
// load takes them all.
func TestSweep_StartSpare(t *testing.T) {
	a := twoDays(t, shoptest.Bare(), 5, 0)
	gain, c := swept(t, a, "start spare")
	if got := pieces(a.In, c.In)["S"]; gain <= 0 || got != 3 {
		t.Errorf("gains %d with %d pieces, want some with half of five", gain, got)
	}
}
