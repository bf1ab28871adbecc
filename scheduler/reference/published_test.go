package reference_test

import (
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// A problem is a shop whose least cost is known, and the least that is proven.
type problem struct {
	shop         *shop.Shop
	least, bound float64
}

// publishedEffort is the effort of a test of some of the published problems; the
// usual one finds more of their optima. testdata/benchmarks.md has the tables.
const publishedEffort = 5000

// Of some problems of weighted tardiness on one machine nearly all optima are
// reached, and no plan costs less than one.
func TestPlan_WT40(t *testing.T) { reach(t, wt40(t), thorough.Of(60, 20), thorough.Of(2, 6)) }

// Of some problems of parallel batches most are.
func TestPlan_Chiang(t *testing.T) { reach(t, chiang(t), thorough.Of(24, 12), thorough.Of(4, 8)) }

// Of some bin packings all are, those that leave no room at all included.
func TestPlan_Packings(t *testing.T) { reach(t, packings(t), thorough.Of(10, 5), thorough.Of(4, 8)) }

// reach plans every n-th problem and fails where fewer than so many optima are
// reached.
func reach(t *testing.T, list []problem, n, want int) {
	reached := 0
	for i := 0; i < len(list); i += n {
		p := &list[i]
		cost := planned(t, shoptest.Accepted(p.shop), scheduler.Options{Effort: publishedEffort}, p.bound)
		if same(cost, p.least) {
			reached++
		} else {
			t.Logf("%s: cost %g, optimum %g", p.shop.Name, cost, p.least)
		}
	}
	if reached < want {
		t.Errorf("%d optima are reached, want %d", reached, want)
	}
}

// BenchmarkPlan_WT40 plans each problem with the usual effort, a seed to a turn.
func BenchmarkPlan_WT40(b *testing.B) { benchmarkAll(b, wt40(b)) }

// BenchmarkPlan_Chiang is the same for parallel batches.
func BenchmarkPlan_Chiang(b *testing.B) { benchmarkAll(b, chiang(b)) }

// BenchmarkPlan_Packings is the same for bin packings.
func BenchmarkPlan_Packings(b *testing.B) { benchmarkAll(b, packings(b)) }

func benchmarkAll(b *testing.B, list []problem) {
	for i := range list {
		p := &list[i]
		b.Run(p.shop.Name, func(b *testing.B) { benchmarkSeeds(b, shoptest.Accepted(p.shop), p.least, p.bound) })
	}
}

func wt40(t testing.TB) (list []problem) {
	for _, q := range benchtest.WT40(t) {
		list = append(list, problem{q.Shop(), float64(q.Least), float64(q.Least)})
	}
	return list
}

func chiang(t testing.TB) (list []problem) {
	for _, b := range benchtest.Chiang(t) {
		list = append(list, problem{b.Shop(), b.Least, b.Bound})
	}
	return list
}

// packings returns the OR-Library's u120 and twenty triplets.
func packings(t testing.TB) (list []problem) {
	for _, p := range benchtest.U120(t) {
		list = append(list, problem{p.Shop(), float64(p.Bins), float64(p.Bins)})
	}
	for seed := range uint64(20) {
		p := benchtest.Triplets(seed)
		list = append(list, problem{p.Shop(), float64(p.Bins), float64(p.Bins)})
	}
	return list
}
