package bound_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// drawShop returns a random shop of any sort: sensible, tiny, without hope, or
// as a plan of another has left it.
func drawShop(t *rapid.T) *shop.Shop {
	seed := rapid.Uint64().Draw(t, "seed")
	size := shoptest.Size{Pieces: rapid.IntRange(1, 120).Draw(t, "pieces"), Impossible: rapid.SampledFrom([]float64{0, 0, 0.3}).Draw(t, "impossible")}
	switch rapid.SampledFrom([]string{"made", "made", "tiny", "hopeless", "advanced"}).Draw(t, "sort") {
	case "tiny":
		return shoptest.Accepted(shoptest.Tiny(seed))
	case "hopeless":
		trouble := rapid.SampledFrom(shoptest.Troubles()).Draw(t, "trouble")
		return shoptest.Accepted(shoptest.Hopeless(trouble, seed))
	case "advanced":
		s := shoptest.Accepted(shoptest.Make(seed, size))
		at := s.Now.Minute + rapid.Int64Range(0, 10*1440).Draw(t, "later")
		return shoptest.Accepted(shoptest.Advance(s, planOf(t, s), shop.InstantIn(at, s.Zone())))
	}
	return shoptest.Accepted(shoptest.Make(seed, size))
}

func planOf(t *rapid.T, s *shop.Shop) *plan.Plan {
	effort := rapid.SampledFrom([]int{0, 30, 300}).Draw(t, "effort")
	r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: effort})
	if err != nil {
		t.Fatal(err)
	}
	return r.Plan
}

// No plan of any shop costs less than the bound. Nor do its loads, or its set-ups,
// cost less than each relaxation says, less its credits for the sets that the plan
// leaves out.
func TestOf_Any(t *testing.T) {
	thorough.Check(t, 30, func(t *rapid.T) {
		s := drawShop(t)
		p := planOf(t, s)
		in := instance.New(s)
		if low := in.Price(bound.Of(in).Total()); low > p.Cost.Total+1e-6 {
			t.Errorf("bound %g, cost %g", low, p.Cost.Total)
		}
		if low := in.Price(bound.InTime(in).Total()); low > p.Cost.Total-p.Cost.Hold+1e-6 {
			t.Errorf("in time: bound %g, cost %g without hold", low, p.Cost.Total-p.Cost.Hold)
		}
		fixed, missing := in.ReleasedCost(), missingSets(in, p)
		expectAbove(t, in, p.Cost.Oven-in.Price(fixed.Oven), missing, bound.RelaxedOvens(in))
		expectAbove(t, in, p.Cost.Setup-in.Price(fixed.Setup), missing, bound.RelaxedSetups(in))
	})
}

func expectAbove(t *rapid.T, in *instance.Instance, cost float64, missing []int, list []bound.Relaxed) {
	t.Helper()
	for _, r := range list {
		for _, whole := range []bool{false, true} {
			if low := in.Price(r.Less(missing, whole)); low > cost+1e-6 {
				t.Errorf("%s: bound %g, cost %g", r.Name, low, cost)
			}
		}
	}
}

// missingSets returns, by product, how many of the sets that could be made and
// are wanted a plan does not allocate.
func missingSets(in *instance.Instance, p *plan.Plan) []int {
	missing := make([]int, len(in.Products))
	for i := range in.Products {
		missing[i] = bound.Wanted(in, i)
	}
	for _, a := range p.Allocations {
		for i := range in.Lines {
			if in.Lines[i].ID == a.Line {
				missing[in.Lines[i].Product] -= a.Sets
			}
		}
	}
	for i := range missing {
		missing[i] = max(0, missing[i])
	}
	return missing
}
