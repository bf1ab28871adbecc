package reference_test

import (
	"fmt"
	"slices"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// How the planner is held to the optima of small shops: so many iterations from one
// seed must reach four fifths of them.
const smallEffort = 10000

// smallShops are the seeds of the shops that are tried: the first forty that make
// something in a cheapest plan and take the solver no more than half a second.
var smallShops = []uint64{
	0, 1, 4, 5, 7, 8, 9, 10, 11, 12, 13, 14, 15, 17, 18, 19, 22, 24, 25, 26,
	30, 31, 33, 34, 36, 38, 39, 41, 42, 44, 48, 49, 50, 51, 53, 54, 55, 56, 57, 58,
}

// No plan of a small shop costs less than the optimum that the solver has proven,
// and most cost no more.
func TestPlan_SmallShops(t *testing.T) {
	reached, tried := 0, smallShops[:thorough.Of(12, len(smallShops))]
	for _, seed := range tried {
		s := shoptest.Accepted(smallShop(seed))
		optimum := proven(t, s)
		cost := planned(t, s, scheduler.Options{Effort: smallEffort}, optimum)
		if same(cost, optimum) {
			reached++
		} else {
			t.Logf("%s: cost %g, the optimum is %g", s.Name, cost, optimum)
		}
	}
	if reached < len(tried)*4/5 {
		t.Errorf("%d of %d plans are as cheap as can be", reached, len(tried))
	}
}

// proven returns the least cost of any plan, which the solver proves. The plan that
// costs so little makes something and keeps all rules.
func proven(t testing.TB, s *shop.Shop) float64 {
	t.Helper()
	m := newModel(s, "")
	v, ok := m.solve()
	if !ok {
		t.Fatalf("%s: no plan at all", s.Name)
	}
	cost := float64(v.of(m.cost)) / cents
	p := m.plan(v)
	if len(p.Loads) == len(m.releasedLoads()) {
		t.Errorf("%s: its cheapest plan makes nothing", s.Name)
	}
	report := check.Plan(s, p)
	for _, breach := range report.Breaches {
		if breach.Rule != check.RuleCost { // it states none
			t.Errorf("%s: the reference plan: %s", s.Name, breach)
		}
	}
	if !same(report.Cost.Total, cost) {
		t.Errorf("%s: the reference plan costs %g, not %g", s.Name, report.Cost.Total, cost)
	}
	return cost
}

// binds names for each rule a small shop whose optimum is less without it: R15 here
// says that released work holds what it takes.
var binds = map[string]uint64{
	"R1": 9, "R2": 9, "R3": 12, "R4": 15, "R5": 49, "R6": 15, "R7": 42, "R8": 9,
	"R9": 56, "R10": 34, "R11": 15, "R12": 9, "R13": 56, "R14": 48, "R15": 41,
}

// Each rule matters in some of the small shops: without it their optimum is less.
func TestModel_RulesBind(t *testing.T) {
	for n := range 15 {
		rule := fmt.Sprintf("R%d", n+1)
		if !slices.Contains(smallShops, binds[rule]) {
			t.Errorf("%s: shop %d is none of those that are tried", rule, binds[rule])
		}
		s := shoptest.Accepted(smallShop(binds[rule]))
		with, without := newModel(s, ""), newModel(s, rule)
		v, _ := with.solve()
		w, _ := without.solve()
		if cost, free := v.of(with.cost), w.of(without.cost); free >= cost {
			t.Errorf("%s: cost %d with %s, %d without", s.Name, cost, rule, free)
		}
	}
}

// BenchmarkPlan_SmallShops plans each small shop with the usual effort, a seed to a
// turn, and tells the optimum and the turns' mean and least cost.
func BenchmarkPlan_SmallShops(b *testing.B) {
	for _, seed := range smallShops {
		s := shoptest.Accepted(smallShop(seed))
		optimum := proven(b, s)
		b.Run(fmt.Sprint(seed), func(b *testing.B) { benchmarkSeeds(b, s, optimum, optimum) })
	}
}
