package scheduler_test

import (
	"fmt"
	"math"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/check"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// tinyShops is how many tiny shops are tried. Most of them have something that
// the oracle does not understand, and some are too large for tinyBudget.
const (
	tinyShops  = 600
	tinyBudget = 6000
)

// unplannedDays lets it pay to make what a tiny shop's demand asks for: what is
// left out counts as so many days later than the shop says.
const unplannedDays = 30

// No plan of a tiny shop costs less than the cheapest that trying everything
// finds, and the better of two seeds costs no more.
func TestPlan_Tiny(t *testing.T) {
	leftOutShort(t)
	solved, equal := 0, 0
	for seed := range uint64(tinyShops) {
		s := shoptest.Tiny(seed)
		s.Policy.UnplannedDays += unplannedDays
		best, ok := expectOptimum(t, fmt.Sprintf("shop %d", seed), s)
		if !ok || best.loads == 0 {
			continue // unknown, or nothing to make
		}
		solved++
		if best.reached {
			equal++
		}
	}
	if solved < 90 || equal < solved {
		t.Errorf("%d of %d plans are as cheap as can be", equal, solved)
	}
}

// Nor does a plan cost less than the cheapest where it may pay to make nothing.
func TestPlan_TinyLeftOut(t *testing.T) {
	leftOutShort(t)
	left := 0
	for seed := range uint64(tinyShops) {
		s := shoptest.Tiny(seed)
		s.Policy.UnplannedDays = int(seed % 3)
		if best, ok := expectOptimum(t, fmt.Sprintf("shop %d", seed), s); ok && best.loads == 0 {
			left++
		}
	}
	if left < 80 {
		t.Errorf("in %d shops only it pays to make nothing", left)
	}
}

// An optimum is the cheapest plan of a tiny shop: how many loads it has, and
// whether the planner's costs as little.
type optimum struct {
	loads   int
	reached bool
}

// expectOptimum compares the planner's plans with the oracle's, which must be
// valid itself. It reports false for a shop of which the oracle knows nothing.
func expectOptimum(t *testing.T, name string, s *shop.Shop) (best optimum, ok bool) {
	t.Helper()
	s = shoptest.Accepted(s)
	cost, p, ok := cheapest(s, tinyBudget)
	if !ok {
		return best, false
	}
	expectValid(t, name, s, p, cost)
	in := instance.New(s)
	if low := in.Price(bound.Of(in).Total()); low > cost+0.001 {
		t.Errorf("%s: the bound is %g, the cheapest plan costs %g", name, low, cost)
	}
	best.loads = len(p.Loads)
	for seed := range uint64(2) {
		if best.reached && thorough.Of(true, false) {
			break
		}
		got := planned(t, s, scheduler.Options{Seed: seed + 1, Effort: 3000}).Plan.Cost.Total
		if got < cost-0.001 {
			t.Errorf("%s: the plan costs %g, less than the %g that nothing can cost less than", name, got, cost)
		}
		best.reached = best.reached || got < cost+0.001
	}
	return best, true
}

// expectValid expects of a plan, which states no cost, that it keeps the rules and
// costs so much.
func expectValid(t *testing.T, name string, s *shop.Shop, p *plan.Plan, cost float64) {
	t.Helper()
	report := check.Plan(s, p)
	for _, breach := range report.Breaches {
		if breach.Rule != check.RuleCost {
			t.Errorf("%s: the oracle's plan: %s", name, breach)
		}
	}
	if math.Abs(report.Cost.Total-cost) > 1e-6 {
		t.Errorf("%s: the oracle's plan costs %g, not %g", name, report.Cost.Total, cost)
	}
}
