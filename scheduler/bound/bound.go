// Package bound proves what no valid plan can cost less than. Each term of the
// cost has relaxations of its own; terms add up, in each of two cases: that
// everything wanted is made, or that something is left out. The lower of the
// two is the bound.
//
// It looks at the instance only, never at an answer, and counts in whole money.
// It imports alone, instance, rack and shop.
package bound

import "blankwright/scheduler/instance"

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// Terms is a lower bound by term, the released work's share included.
type Terms struct{ Late, Hold, Oven, Setup Money }

// Total returns the sum of the terms.
func (t Terms) Total() Money { return t.Late + t.Hold + t.Oven + t.Setup }

// Of returns a lower bound of the cost of any valid plan of an instance.
func Of(in *instance.Instance) Terms {
	fixed := in.ReleasedCost()
	loads, keys := oven(in), setup(in)
	sets := late(in, loads.share)
	t := Terms{Late: sets.all, Oven: fixed.Oven + loads.cost, Setup: fixed.Setup + keys}
	// What is left out costs its lines dearly and saves the ovens a little: what
	// it may save beyond its credits is slack. Where that is the cheaper case,
	// the bound gives up the difference.
	if gap := sets.all - (sets.some - loads.slack - keys); gap > 0 {
		t.give(gap, fixed)
	}
	return t
}

// give lowers the terms by a sum, those first that it is most likely of.
func (t *Terms) give(sum Money, fixed instance.ReleasedCost) {
	for _, part := range []struct {
		term *Money
		keep Money
	}{{&t.Setup, fixed.Setup}, {&t.Oven, fixed.Oven}, {&t.Late, 0}} {
		n := min(sum, *part.term-part.keep)
		*part.term -= n
		sum -= n
	}
}
