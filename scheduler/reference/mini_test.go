package reference_test

import (
	"context"
	"math"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// What a search of miniEffort must do on the integrated instances. It finds more
// of the optima with more effort; testdata/benchmarks.md has the table.
const (
	miniEffort = 10000
	miniExcess = 1.35 // times what all optima cost together
)

// No plan of an integrated instance costs less than its proven optimum, no bound is
// above it, and a short search reaches some of the optima, and comes near the rest.
func TestPlan_Minis(t *testing.T) {
	every, want := thorough.Of(4, 1), thorough.Of(1, 9) // optima, of 9 and of 35
	reached, sum, least := 0, 0.0, 0.0
	for i, m := range benchtest.Minis(t) {
		if i%every != 0 {
			continue
		}
		s := shoptest.Accepted(m.Shop())
		cost := planned(t, s, scheduler.Options{Effort: miniEffort}, float64(m.Least))
		if same(cost, float64(m.Least)) {
			reached++
		}
		sum, least = sum+cost, least+float64(m.Least)
	}
	if reached < want || sum > least*miniExcess {
		t.Errorf("%d optima are reached, and the plans cost %g times as much as these", reached, sum/least)
	}
}

// BenchmarkPlan_Minis plans each instance with the usual effort, a seed to a turn,
// and tells the optimum and the turns' mean and least cost.
func BenchmarkPlan_Minis(b *testing.B) {
	for _, m := range benchtest.Minis(b) {
		b.Run(m.Name, func(b *testing.B) {
			s := shoptest.Accepted(m.Shop())
			benchmarkSeeds(b, s, float64(m.Least), float64(m.Least))
		})
	}
}

// benchmarkSeeds plans a shop from one seed after the other, and tells its optimum,
// or the least known where no more than a bound is proven, and the least, the mean
// and the most that the plans cost.
func benchmarkSeeds(b *testing.B, s *shop.Shop, optimum, proven float64) {
	seed, sum, least, most := uint64(0), 0.0, math.Inf(1), 0.0
	for b.Loop() {
		seed++
		cost := planned(b, s, scheduler.Options{Seed: seed, Effort: -1}, proven)
		sum, least, most = sum+cost, min(least, cost), max(most, cost)
	}
	b.ReportMetric(optimum, "optimum")
	b.ReportMetric(least, "least")
	b.ReportMetric(sum/float64(seed), "mean")
	b.ReportMetric(most, "most")
}

// planned plans a shop whose optimum is known, and returns what the plan costs. The
// plan must be valid, cost no less than the optimum, and not be bounded above it.
func planned(t testing.TB, s *shop.Shop, o scheduler.Options, optimum float64) float64 {
	t.Helper()
	r, err := scheduler.Plan(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, breach := range check.Plan(s, r.Plan).Breaches {
		t.Errorf("%s: %s", s.Name, breach)
	}
	cost, bound := r.Plan.Cost.Total, r.Plan.Bound.Total
	if cost < optimum && !same(cost, optimum) || bound > optimum && !same(bound, optimum) {
		t.Errorf("%s: cost %g, bound %g; the optimum is %g", s.Name, cost, bound, optimum)
	}
	return cost
}

// same reports whether two costs are the same, as the contract compares them.
func same(a, b float64) bool {
	d := a - b
	return -0.001 < d && d < 0.001
}
