package cost_test

import (
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shoptest"
)

// together draws a shop of a few lines for one product, of which at least one is in
// an order that ships complete.
func together(t *rapid.T) *instance.Instance {
	s := shoptest.Bare()
	s.HorizonDays, s.Policy.UnplannedDays = 20, 5
	for i := range rapid.IntRange(2, 5).Draw(t, "lines") {
		sets, due := rapid.IntRange(1, 2).Draw(t, "sets"), rapid.IntRange(0, 12).Draw(t, "due")
		l := shoptest.AddLine(s, "P", sets, due, rapid.SampledFrom([]float64{0.5, 1, 2, 5}).Draw(t, "weight"))
		if i == 0 || rapid.Bool().Draw(t, "with the order") {
			l.Order, l.Complete = "O", true
		}
	}
	return instance.New(shoptest.Accepted(s))
}

// cheapestGift tries every way to give so many sets, all good at once, to lines
// from the i-th on, given what the lines before have.
func cheapestGift(in *instance.Instance, shares []cost.Share, i, left int, at instance.Tick) cost.Money {
	if i == len(in.Lines) {
		late, hold := recount(in, shares)
		return late + hold
	}
	low := cost.Money(-1)
	for n := 0; n <= min(left, in.Lines[i].Quantity); n++ {
		with := shares
		if n > 0 {
			with = append(with, cost.Share{Line: i, Sets: n, At: at, Ship: in.Date(at)})
		}
		if rest := in.Lines[i].Quantity - n; rest > 0 {
			with = append(with, cost.Share{Line: i, Sets: rest, Ship: in.Products[0].Never, Missing: true})
		}
		if sum := cheapestGift(in, with, i+1, left-n, at); low < 0 || sum < low {
			low = sum
		}
	}
	return low
}

// An order that ships complete gets all of its sets or lets others have them,
// whichever is cheaper, found here by trying all.
func TestAllocate_AllOfAnOrderOrNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := together(t)
		at := day*rapid.IntRange(0, 19).Draw(t, "day") + 1
		good := rapid.IntRange(0, in.Wanted(0)).Draw(t, "good sets")
		var units []cost.Units
		if good > 0 {
			units = append(units, cost.Units{At: at, Sets: good})
		}
		shares := cost.Allocate(in, 0, units)
		late, hold := recount(in, shares)
		if want := cheapestGift(in, nil, 0, good, at); late+hold != want {
			t.Errorf("allocated at %g, the cheapest is %g: %+v", in.Price(late+hold), in.Price(want), shares)
		}
		judgeShares(t, in, units, shares)
	})
}

// A set goes to the line that ships by itself where an order would still lack
// another; where the order lacks only that one, and has more at stake, it gets it.
func TestAllocate_OrderThatStaysShort(t *testing.T) {
	s := shoptest.Bare()
	for _, sets := range []int{2, 1} { // due on day 3 at 5 a day, both of the order
		l := shoptest.AddLine(s, "P", sets, 3, 5)
		l.Order, l.Complete = "O", true
	}
	shoptest.AddLine(s, "P", 1, 3, 8)
	in := instance.New(shoptest.Accepted(s))
	for _, c := range []struct{ good, alone int }{{1, 1}, {2, 1}, {3, 0}, {4, 1}} {
		alone := 0
		for _, share := range cost.Allocate(in, 0, []cost.Units{{At: day, Sets: c.good}}) {
			if share.Line == 2 && !share.Missing {
				alone += share.Sets
			}
		}
		if alone != c.alone {
			t.Errorf("of %d sets the line by itself gets %d, want %d", c.good, alone, c.alone)
		}
	}
}

// Where an order lacks sets of one product, those of another go to the line that ships
// by itself, though the order's line is due sooner; and not once it lacks none.
func TestBook_HopelessOrder(t *testing.T) {
	s := shoptest.Bare()
	s.Products = append(s.Products, shoptest.BareProduct("Q", "T"))
	for _, product := range []string{"P", "Q"} { // due on day 3 at 5 a day each
		l := shoptest.AddLine(s, product, 1, 3, 5)
		l.Order, l.Complete = "O", true
	}
	shoptest.AddLine(s, "P", 1, 4, 4)
	in := instance.New(shoptest.Accepted(s))
	b := cost.NewBook(in)
	b.Add(trimmed(day, run(0, 1)))
	b.Keep()
	expect := func(when string, late float64, first int) {
		t.Helper()
		if got := in.Price(b.Late()); got != late || b.Shares(0)[0].Line != first {
			t.Errorf("%s: late %g, the first set goes to line %d; want %g and %d", when, got, b.Shares(0)[0].Line, late, first)
		}
	}
	expect("no Q: the order's 2 × 57 × 5", 570, 2)
	other := trimmed(day, run(1, 1))
	b.Add(other)
	expect("with Q: the other line's 56 × 4", 224, 0)
	b.Drop(other)
	b.Undo()
	expect("undone", 570, 2)
}
