package construct_test

import (
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/ovens"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// Where nothing but the ovens takes time, the timetable keeps what planning these
// alone has promised: two of the contract's worked examples have their optimum at
// once (67 is that of the public toy_wt4.1; 20 of two families was enumerated).
func TestByOvens_KeepsThePromise(t *testing.T) {
	var sequence benchtest.Sequence
	for _, j := range [][3]int{{12, 4, 16}, {8, 5, 26}, {15, 3, 25}, {9, 5, 27}} {
		sequence.Jobs = append(sequence.Jobs, benchtest.Job{Days: j[0], Weight: j[1], Due: j[2]})
	}
	batching := benchtest.Batching{Machines: 1, Most: 2, Days: []int{4, 6}}
	for _, j := range [][3]int{{0, 4, 3}, {0, 5, 1}, {0, 12, 2}, {1, 6, 2}, {1, 6, 2}, {1, 20, 1}} {
		batching.Jobs = append(batching.Jobs, benchtest.FamilyJob{Family: j[0], Due: j[1], Weight: float64(j[2])})
	}
	for _, c := range []struct {
		s    *shop.Shop
		want float64
	}{{sequence.Shop(), 67}, {batching.Shop(), 20}} {
		in := instance.New(shoptest.Accepted(c.s))
		a, alike := construct.ByOvens(in, ovens.Options{Seed: 1, Steps: 3000})
		if got := in.Price(a.Cost().Total()); got != c.want || !alike {
			t.Errorf("%d lines cost %g, want %g; hardly more than the ovens alone: %t", len(in.Lines), got, c.want, alike)
		}
	}
}

// Where tacking takes a day, all costs much more than the ovens alone would.
func TestByOvens_SlowTacking(t *testing.T) {
	s := shoptest.Bare()
	s.Stations.Tack.Positions = 1
	s.Racks[0].Setups[0].Levels[0].Pegs = 1
	s.Products[0].Sections[0].Minutes.Tack = 1440
	shoptest.AddLine(s, "P", 4, 0, 1)
	in := instance.New(shoptest.Accepted(s))
	if _, alike := construct.ByOvens(in, ovens.Options{Seed: 1, Steps: 3000}); alike {
		t.Error("a day of tacking for each piece costs hardly more")
	}
}

// Of any shop it makes a valid plan.
func TestByOvens_AnyShop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := shoptest.Size{Impossible: rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "impossible")}
		s := shoptest.Accepted(shoptest.Make(rapid.Uint64Range(1, 4000).Draw(t, "shop"), size))
		a, _ := construct.ByOvens(instance.New(s), ovens.Options{Seed: rapid.Uint64().Draw(t, "seed"), Steps: 300})
		for _, b := range check.Plan(s, a.Plan()).Breaches {
			if b.Rule != check.RuleBound {
				t.Errorf("%s", b)
			}
		}
	})
}
