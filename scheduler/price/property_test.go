package price_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/price"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// drawShop returns a random shop of any sort: sensible, tiny, without hope, or as a
// plan of another has left it.
func drawShop(t *rapid.T) *shop.Shop {
	seed := rapid.Uint64().Draw(t, "seed")
	size := shoptest.Size{Pieces: rapid.IntRange(1, 120).Draw(t, "pieces"), Impossible: rapid.SampledFrom([]float64{0, 0, 0.3}).Draw(t, "impossible")}
	switch rapid.SampledFrom([]string{"made", "made", "tiny", "hopeless", "advanced"}).Draw(t, "sort") {
	case "tiny":
		return shoptest.Accepted(shoptest.Tiny(seed))
	case "hopeless":
		return shoptest.Accepted(shoptest.Hopeless(rapid.SampledFrom(shoptest.Troubles()).Draw(t, "trouble"), seed))
	case "advanced":
		s := shoptest.Accepted(shoptest.Make(seed, size))
		at := s.Now.Minute + rapid.Int64Range(0, 10*1440).Draw(t, "later")
		return shoptest.Accepted(shoptest.Advance(s, planOf(t, s), shop.InstantIn(at, s.Zone())))
	}
	return shoptest.Accepted(shoptest.Make(seed, size))
}

func planOf(t *rapid.T, s *shop.Shop) *plan.Plan {
	r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: rapid.SampledFrom([]int{0, 30, 300}).Draw(t, "effort")})
	if err != nil {
		t.Fatal(err)
	}
	return r.Plan
}

// Whatever the prices, and the more so the best, they prove less than the late and
// early sets of any plan cost.
func TestPrices_BelowAnyPlan(t *testing.T) {
	thorough.Check(t, 25, func(t *rapid.T) {
		s := drawShop(t)
		in, cost := instance.New(s), planOf(t, s).Cost
		expectBelow(t, in, price.Of(in).LeftOutOrNot(), cost.Late+cost.Hold)
		hall := price.HallOf(in)
		most := in.Money(max(1, cost.Late)) >> rapid.IntRange(0, 20).Draw(t, "scale")
		for range 4 {
			proven := hall.Proven(func() int64 { return rapid.Int64Range(0, most+1).Draw(t, "price") })
			expectBelow(t, in, proven, cost.Late+cost.Hold)
		}
	})
}

func expectBelow(t *rapid.T, in *instance.Instance, proven price.Least, cost float64) {
	t.Helper()
	if low := in.Price(proven.Sum()); low > cost+1e-6 {
		t.Errorf("%g is proven of late and early sets that cost %g", low, cost)
	}
}

// Where a plan makes all that can be made, it costs no less than that case; where it
// leaves out some, no less than the other.
func TestPrices_BelowEachCase(t *testing.T) {
	thorough.Check(t, 25, func(t *rapid.T) {
		s := drawShop(t)
		in, p := instance.New(s), planOf(t, s)
		cost, can, prices := p.Cost.Late+p.Cost.Hold, made(in), price.Of(in)
		if leavesOut(in, p) {
			expectBelow(t, in, prices.LeftOut(can, make([]price.Money, len(can))), cost)
		} else {
			expectBelow(t, in, prices.Made(can), cost)
		}
	})
}

// leavesOut reports whether a plan leaves out any set that is wanted.
func leavesOut(in *instance.Instance, p *plan.Plan) bool {
	sets := map[string]int{}
	for _, a := range p.Allocations {
		sets[a.Line] += a.Sets
	}
	for i := range in.Lines {
		if l := &in.Lines[i]; !l.Free && sets[l.ID] < l.Quantity {
			return true
		}
	}
	return false
}

// No part of a line ships twice, and all parts are of dates on which its product can
// ship.
func TestShips_AreParts(t *testing.T) {
	thorough.Check(t, 25, func(t *rapid.T) {
		in := instance.New(drawShop(t))
		prices := price.Of(in)
		for i := range in.Lines {
			sum, last := 0.0, shop.Date(0)
			for n, part := range prices.Ships(i) {
				if part.Of <= 0 || n > 0 && part.Ship <= last {
					t.Errorf("line %d: part %v follows one of %s", i, part, last)
				}
				sum, last = sum+part.Of, part.Ship
			}
			if sum > 1+1e-6 || in.Lines[i].Free && sum > 0 {
				t.Errorf("line %d ships %g of itself", i, sum)
			}
		}
	})
}

// No plan has more pieces of a mandrel type trimmed by the end of a day than there is
// room for.
func TestLimits_PiecesOfAnyPlan(t *testing.T) {
	thorough.Check(t, 25, func(t *rapid.T) {
		s := drawShop(t)
		in := instance.New(s)
		hall, p := price.HallOf(in), planOf(t, s)
		kept := map[string]bool{}
		if s.Released != nil {
			for i := range s.Released.Loads {
				kept[s.Released.Loads[i].ID] = true
			}
		}
		for m := range in.Mandrels {
			room := hall.Rooms("mandrel", in.Mandrels[m].ID)
			for d := range room {
				trimmed := 0
				for i := range p.Tasks {
					task := &p.Tasks[i]
					if task.Stage == shop.Trim && !kept[task.Load] && task.End.Minute-s.Now.Minute <= int64(hall.Last(d)) && mandrelOf(in, task.Section) == m {
						trimmed += task.Pieces
					}
				}
				if float64(trimmed) > room[d] {
					t.Errorf("%d pieces of %s are trimmed by day %d, room for %g", trimmed, in.Mandrels[m].ID, d, room[d])
				}
			}
		}
	})
}

func mandrelOf(in *instance.Instance, section string) int {
	for i := range in.Sections {
		if in.Sections[i].ID == section {
			return in.Sections[i].Mandrel
		}
	}
	return instance.None
}
