package bound

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/price"
)

// A setsBound is a lower bound of what late and early sets cost, in two cases: that
// all that is wanted is made, by term, or that something is left out. In the
// second, each set that is left out is credited with something.
type setsBound struct{ late, hold, some Money }

// pricesOfLimits bounds what late and early sets cost by the prices at which sets
// compete for everything that a shop has, for any credits by product.
func pricesOfLimits(in *instance.Instance) func(credit []Money) setsBound {
	prices := price.Of(in)
	made := make([]int, len(in.Products))
	for p := range made {
		made[p] = toMake(in, p)
	}
	all := prices.Made(made)
	return func(credit []Money) setsBound {
		return setsBound{late: all.Late, hold: all.Hold, some: prices.LeftOut(made, credit).Sum()}
	}
}
