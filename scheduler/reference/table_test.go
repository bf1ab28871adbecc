package reference_test

import (
	"flag"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/shoptest"
)

// tableEffort is the effort of the tables: the usual one takes hours for all.
var tableEffort = flag.Int("effort", 10000, "iterations for each problem of BenchmarkPlan_Table; below 0: the usual")

// BenchmarkPlan_Table plans every published problem, from one seed to a turn, and
// tells of how many the optimum is found, and what the other plans cost more.
func BenchmarkPlan_Table(b *testing.B) {
	for _, set := range []struct {
		name string
		list func(testing.TB) []problem
	}{
		{"wt40", wt40}, {"chiang", chiang}, {"packings", packings}, {"mini", minis},
	} {
		b.Run(set.name, func(b *testing.B) { benchmarkTable(b, set.list(b)) })
	}
}

func minis(t testing.TB) (list []problem) {
	for _, m := range benchtest.Minis(t) {
		list = append(list, problem{m.Shop(), float64(m.Least), float64(m.Least)})
	}
	return list
}

// A tally sums up what the plans of some problems reach.
type tally struct {
	found, above, below int
	excess              float64 // of those above, as shares of the least
}

// benchmarkTable plans some problems. A plan that cost less than an optimum would be
// an error of ours, and planned fails for it.
func benchmarkTable(b *testing.B, list []problem) {
	var sum tally
	begun, seed := benchtest.ProcessorTime(), uint64(0)
	for b.Loop() {
		seed++
		sum.plan(b, list, seed)
	}
	turns := float64(seed)
	b.ReportMetric(float64(sum.found)/turns, "found")
	b.ReportMetric(float64(sum.above)/turns, "above")
	b.ReportMetric(float64(sum.below)/turns, "below")
	b.ReportMetric(100*sum.excess/max(float64(sum.above), 1), "%above")
	b.ReportMetric((benchtest.ProcessorTime()-begun).Seconds()/turns, "cpu-s")
}

// plan plans each problem from a seed.
func (sum *tally) plan(b *testing.B, list []problem, seed uint64) {
	for i := range list {
		p := &list[i]
		cost := planned(b, shoptest.Accepted(p.shop), scheduler.Options{Seed: seed, Effort: *tableEffort}, p.bound)
		switch {
		case same(cost, p.least):
			sum.found++
		case cost < p.least:
			sum.below++
		default:
			sum.above++
			sum.excess += (cost - p.least) / max(p.least, 1)
			b.Logf("%s, seed %d: cost %g, least known %g", p.shop.Name, seed, cost, p.least)
		}
	}
}
