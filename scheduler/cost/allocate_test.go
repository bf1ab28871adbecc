package cost_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

const day = 1440

// price is what a set of a line costs that ships on a date, by section 6 of the
// contract.
func price(in *instance.Instance, line int, ship shop.Date, missing bool) cost.Money {
	l := &in.Lines[line]
	if days := cost.Money(ship - l.Due); days > 0 {
		return days * l.LatePrice
	} else if !missing {
		return -days * in.HoldPrice
	}
	return 0
}

func priceAll(in *instance.Instance, shares []cost.Share) (sum cost.Money) {
	for _, s := range shares {
		sum += cost.Money(s.Sets) * price(in, s.Line, s.Ship, s.Missing)
	}
	return sum
}

// cheapest tries every way to give sets that ship on the given dates to lines
// that still ask for so many.
func cheapest(in *instance.Instance, asked []int, ships []shop.Date) cost.Money {
	if len(ships) == 0 {
		sum := cost.Money(0)
		for line, n := range asked {
			sum += cost.Money(n) * price(in, line, in.Products[0].Never, true)
		}
		return sum
	}
	low := cost.Money(-1)
	for line := range asked {
		if asked[line] == 0 {
			continue
		}
		asked[line]--
		sum := price(in, line, ships[0], false) + cheapest(in, asked, ships[1:])
		asked[line]++
		if low < 0 || sum < low {
			low = sum
		}
	}
	return low
}

// lines draws a shop of a few lines for one product, none of which ships with
// others.
func lines(t *rapid.T) *instance.Instance {
	s := shoptest.Bare()
	s.HorizonDays, s.Policy.UnplannedDays = 20, rapid.IntRange(0, 9).Draw(t, "unplanned days")
	s.Policy.HoldCost = rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(t, "hold cost")
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		sets, due := rapid.IntRange(1, 2).Draw(t, "sets"), rapid.IntRange(0, 25).Draw(t, "due")
		shoptest.AddLine(s, "P", sets, due, rapid.SampledFrom([]float64{0, 0.5, 1, 2, 5}).Draw(t, "weight"))
	}
	return instance.New(shoptest.Accepted(s))
}

// units draws when sets become good, and returns the ship date of each too.
func units(t *rapid.T, in *instance.Instance) (list []cost.Units, ships []shop.Date) {
	at := 0
	for left := rapid.IntRange(0, in.Wanted(0)).Draw(t, "good sets"); left > 0; {
		at += rapid.IntRange(1, 4*day).Draw(t, "later")
		n := rapid.IntRange(1, left).Draw(t, "at once")
		if at = min(at, in.Horizon-left); len(list) > 0 && list[len(list)-1].At >= at {
			at = list[len(list)-1].At + 1
		}
		list = append(list, cost.Units{At: at, Sets: n})
		for range n {
			ships = append(ships, in.Date(at))
		}
		left -= n
	}
	return list, ships
}

// Sets go to lines in the cheapest way that there is, found here by trying all.
func TestAllocate_IsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := lines(t)
		good, ships := units(t, in)
		shares := cost.Allocate(in, 0, good)
		asked := make([]int, len(in.Lines))
		for i := range in.Lines {
			if !in.Lines[i].Free {
				asked[i] = in.Lines[i].Quantity
			}
		}
		if got, want := priceAll(in, shares), cheapest(in, asked, ships); got != want {
			t.Errorf("allocated at %g, the cheapest is %g: %+v", in.Price(got), in.Price(want), shares)
		}
		judgeShares(t, in, good, shares)
	})
}

// judgeShares judges that each line gets what it asks for, nothing where it is
// free, that all good sets are given at their instant, and the rest is missing.
func judgeShares(t *rapid.T, in *instance.Instance, good []cost.Units, shares []cost.Share) {
	given, byLine := map[instance.Tick]int{}, make([]int, len(in.Lines))
	for _, s := range shares {
		byLine[s.Line] += s.Sets
		want := in.Products[0].Never
		if !s.Missing {
			given[s.At] += s.Sets
			want = in.Date(s.At)
		}
		if s.Ship != want || s.Sets < 1 {
			t.Errorf("%d sets of line %d at %d ship on %s, want %s", s.Sets, s.Line, s.At, s.Ship, want)
		}
	}
	for i, l := range in.Lines {
		if want := map[bool]int{true: 0, false: l.Quantity}[l.Free]; byLine[i] != want {
			t.Errorf("line %d gets %d sets, want %d", i, byLine[i], want)
		}
	}
	want := map[instance.Tick]int{}
	for _, u := range good {
		want[u.At] += u.Sets
	}
	if !cmp.Equal(given, want) {
		t.Errorf("given %v of %v", given, want)
	}
}

// Three lines must change places at once here, for no two of them gain by it:
// exchanging pairs alone ends at 34. Two sets ship on day 4 and one on day 8; the
// other four count on day 22, 2 days after the horizon of 20.
func TestAllocate_ThreeChangePlaces(t *testing.T) {
	s := shoptest.Bare()
	s.HorizonDays, s.Policy.UnplannedDays = 20, 2
	for _, l := range []struct {
		sets, due int
		weight    float64
	}{{2, 2, 0.5}, {2, 10, 5}, {2, 8, 0.5}, {1, 14, 1}} {
		shoptest.AddLine(s, "P", l.sets, l.due, l.weight)
	}
	in := instance.New(shoptest.Accepted(s))
	shares := cost.Allocate(in, 0, []cost.Units{{At: 4 * day, Sets: 2}, {At: 8 * day, Sets: 1}})
	// Pairs: line 1 has day 4, line 3 day 8, lines 0 and 2 nothing, which costs
	// 2 × 20 × 0.5 + 2 × 14 × 0.5 = 34. Better: line 0 has a set of day 4, line 1 the
	// other and that of day 8: (2 + 20) × 0.5 + 2 × 14 × 0.5 + 8 × 1 = 33.
	if got := in.Price(priceAll(in, shares)); got != 33 {
		t.Errorf("allocated at %g, want 33: %+v", got, shares)
	}
}

// Lines that cost nothing left out get nothing. All others have their sets, those
// that ship with others too, and who comes first is one question for all of them.
func TestAllocate_CompleteAndFreeLines(t *testing.T) {
	s := shoptest.Bare()
	for i, due := range []int{1, 2, 70, 3} { // the third is due after the never date
		line := shoptest.AddLine(s, "P", 1, due, float64(1+4*i))
		if i < 2 {
			line.Order, line.Complete = "together", true
		}
	}
	in := instance.New(shoptest.Accepted(s))
	got := map[int]int{}
	for _, share := range cost.Allocate(in, 0, []cost.Units{{At: 5 * day, Sets: 1}, {At: 9 * day, Sets: 5}}) {
		if share.Missing || share.Ship != in.Date(share.At) {
			t.Errorf("share %+v: there are sets for all", share)
		}
		got[share.Line] += share.Sets
	}
	if want := map[int]int{0: 1, 1: 1, 3: 1}; !cmp.Equal(got, want) {
		t.Errorf("lines get %v sets, want %v", got, want)
	}
}
