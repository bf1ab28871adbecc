//go:build slowcheck

package answer

import (
	"fmt"

	"blankwright/scheduler/check"
	"blankwright/scheduler/cost"
)

// verify counts a kept answer's cost anew from nothing, and lets the independent
// checker judge it. It is slow, and panics where either finds a difference.
func (a *Answer) verify() {
	fresh := cost.NewBook(a.In)
	oven := Money(0)
	for _, l := range a.Loads {
		fresh.Add(l)
		oven += a.In.LoadCost(l.Oven, l.Cure)
	}
	counted := Cost{Late: fresh.Late(), Hold: fresh.Hold(), Oven: oven, Setup: a.Table.SetupCost()}
	if counted != a.Cost() {
		panic(fmt.Sprintf("answer: kept count %+v, counted anew %+v", a.Cost(), counted))
	}
	if again := a.Table.Recount(); again != a.Table.Setups() {
		panic(fmt.Sprintf("answer: kept set-ups %v, counted anew %v", a.Table.Setups(), again))
	}
	for _, b := range check.Plan(a.In.Shop, a.Plan()).Breaches {
		if b.Rule != check.RuleBound {
			panic("answer: " + b.String())
		}
	}
}
