package line_test

import (
	"testing"

	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// The sections of a setupShop: S, wrapped with film, and T, wrapped with poly.
const (
	film = iota
	poly
)

// setupShop returns a bench of three ovens with two tapes, between which the
// wrapping station, set up for film, takes 10 minutes at 0.5 each.
func setupShop() *shop.Shop {
	s := bench()
	s.Ovens = append(s.Ovens, s.Ovens[0], s.Ovens[0])
	s.Ovens[1].ID, s.Ovens[2].ID = "second", "third"
	s.Tapes[0].ID = "film"
	s.Tapes = append(s.Tapes, shop.Tape{ID: "poly", ShrinkFromC: 90, MaxC: 140})
	s.Products = append(s.Products, shoptest.BareProduct("Q"))
	s.Products[1].Sections = []shop.Section{section("T")}
	s.Products[0].Sections[0].Tape, s.Products[1].Sections[0].Tape = "film", "poly"
	key := "film"
	s.Stations.Wrap.SetupMinutes, s.Stations.Wrap.LastSetup = 10, []*string{&key}
	s.Policy.LabourCost = 0.5
	return s
}

// wrapped places a load of 4 pieces of a section in an oven at a clock time, and
// returns it.
func wrapped(t *testing.T, table *line.Timetable, oven, section int, target, patience line.Tick) *line.Load {
	t.Helper()
	l := load(t, table, 10*oven+section+1, target, run(section, 4))
	l.Oven, l.Patience = oven, patience
	return placed(t, table, l)
}

// expectWrap compares when a load is wrapped, and with what set-up.
func expectWrap(t *testing.T, l *line.Load, start, end line.Tick, setup bool) {
	t.Helper()
	want := row{shop.Wrap, 4, start, end, setup}
	if got := stageRows(l, shop.Wrap); len(got) != 1 || got[0] != want {
		t.Errorf("wrapped %v, want %v", got, want)
	}
}

// expectSetups compares the number of set-ups for wrapping, and what they cost.
func expectSetups(t *testing.T, table *line.Timetable, want int) {
	t.Helper()
	if got := table.Setups()[shop.Wrap]; got != want {
		t.Errorf("%d set-ups for wrapping, want %d", got, want)
	}
	if got := table.Instance().Price(table.SetupCost()); got != 5*float64(want) {
		t.Errorf("set-ups cost %g, want %g", got, 5*float64(want))
	}
}

// A set-up is needed where the key differs from that of the task before, or from
// the last set-up, and comes first in the task's time.
func TestPlace_SetUpBetweenKeys(t *testing.T) {
	table := compile(setupShop())
	expectWrap(t, wrapped(t, table, 0, film, clock(8, 28), 0), clock(8, 20), clock(8, 28), false)
	expectWrap(t, wrapped(t, table, 1, poly, clock(9, 8), 0), clock(8, 50), clock(9, 8), true)
	expectWrap(t, wrapped(t, table, 2, film, clock(10, 0), 0), clock(9, 42), clock(10, 0), true)
	expectSetups(t, table, 2)
}

// With patience for it, a task starts earlier where that saves its set-up: film
// goes before poly, which from 8:50 needs its own either way.
func TestPlace_PatienceSavesSetUp(t *testing.T) {
	cases := []struct {
		name     string
		patience line.Tick
		start    line.Tick
		setup    bool
	}{
		{"eight hours", 480, clock(8, 42), false},
		// From 9:42 back to 8:42
		{"as much as it takes", 60, clock(8, 42), false},
		{"a minute too little", 59, clock(9, 42), true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			table := compile(setupShop())
			wrapped(t, table, 0, film, clock(8, 28), 0)
			wrapped(t, table, 1, poly, clock(9, 8), 0)
			end := c.start + 8
			if c.setup {
				end += 10
			}
			expectWrap(t, wrapped(t, table, 2, film, clock(10, 0), c.patience), c.start, end, c.setup)
		})
	}
}

// A task put before another of its key takes over the set-up, and the other
// starts later, without it: poly for 9:08 is set up from 8:50, and poly before it
// leaves it 8 minutes from 9:00.
func TestPlace_TakesOverSetUp(t *testing.T) {
	table := compile(setupShop())
	later := wrapped(t, table, 0, poly, clock(9, 8), 0)
	expectWrap(t, later, clock(8, 50), clock(9, 8), true)
	expectWrap(t, wrapped(t, table, 1, poly, clock(9, 0), 0), clock(8, 42), clock(9, 0), true)
	expectWrap(t, later, clock(9, 0), clock(9, 8), false)
	expectSetups(t, table, 1)
}

// A task put between two of one key burdens the one behind with a set-up, where
// its load has left room for it: film for 9:40, then poly for 9:20, which needs
// one itself.
func TestPlace_BurdensTheTaskBehind(t *testing.T) {
	table := compile(setupShop())
	behind := wrapped(t, table, 0, film, clock(9, 40), 0)
	expectWrap(t, behind, clock(9, 32), clock(9, 40), false)
	expectWrap(t, wrapped(t, table, 1, poly, clock(9, 20), 0), clock(9, 2), clock(9, 20), true)
	expectWrap(t, behind, clock(9, 22), clock(9, 40), true)
	expectSetups(t, table, 2)
}

// When a load goes, the tasks behind its own need their set-ups anew: film
// behind poly loses its own, poly behind poly comes to need one.
func TestRemove_MendsSetUps(t *testing.T) {
	table := compile(setupShop())
	first := wrapped(t, table, 0, poly, clock(9, 8), 0)
	second := wrapped(t, table, 1, film, clock(9, 40), 0)
	expectWrap(t, second, clock(9, 22), clock(9, 40), true)
	if upset := table.Remove(first); len(upset) > 0 || first.Placed() {
		t.Errorf("%d loads are upset", len(upset))
	}
	expectWrap(t, second, clock(9, 32), clock(9, 40), false)
	expectSetups(t, table, 0)

	table = compile(setupShop())
	first = wrapped(t, table, 0, poly, clock(9, 8), 0)
	second = wrapped(t, table, 1, poly, clock(9, 40), 0)
	expectWrap(t, second, clock(9, 32), clock(9, 40), false)
	if upset := table.Remove(first); len(upset) > 0 {
		t.Errorf("%d loads are upset", len(upset))
	}
	expectWrap(t, second, clock(9, 22), clock(9, 40), true)
	expectSetups(t, table, 1)
}
