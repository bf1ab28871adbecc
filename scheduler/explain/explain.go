package explain

import (
	"cmp"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/binding"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/shop"
)

// An Outcome is what becomes of a line in some plan.
type Outcome struct {
	Ship                                *shop.Date // of its last planned set; nil where it ships nothing
	LateSets, UnallocatedSets, DaysLate int
	Cost                                float64 // of the line being late or left out
	PlanCost                            float64 // of the whole plan
}

// A Gain is what one thing more brings a line.
type Gain struct {
	With relax.Relaxation
	What string // the same in words
	Outcome
	// DaysSooner is by how much sooner the line ships its last set. Where sets are
	// left out, it counts as shipped when the cost says that these are.
	DaysSooner int
	SetsMore   int     // of the line that are planned
	Saves      float64 // of the line's cost
	PlanSaves  float64 // of the plan's cost
	Tries      int     // changes tried
}

// Brings reports whether a gain is one for the line: sets that ship sooner, or
// more of them, or fewer late days in all.
func (g *Gain) Brings() bool { return g.DaysSooner > 0 || g.SetsMore > 0 || g.Saves > worth }

// worth is the least money that counts.
const worth = 0.005

// compare orders gains by what they bring the line, then the plan.
func (g *Gain) compare(than *Gain) int {
	return cmp.Or(cmp.Compare(g.DaysSooner, than.DaysSooner), cmp.Compare(g.SetsMore, than.SetsMore),
		cmp.Compare(g.Saves, than.Saves), cmp.Compare(g.PlanSaves, than.PlanSaves))
}

// An Explanation tells of one line what binds it, and what one thing more would
// bring.
type Explanation struct {
	Line   binding.Line // as the plan has it, with what binds it
	Plan   float64      // what the plan costs
	AsItIs Outcome      // where the plan goes on with nothing more
	// Gains has all that was tried, what brings the line most first: by days, then
	// by the line's and the plan's money.
	Gains   []Gain
	LeftOut int // relaxations that there was no time to try
	Tries   int // changes tried in each shop, in each of a few rounds at most
}

// Line explains a line, by its index, of a valid plan of a shop: what its pieces
// need on their way is tried, and the plan goes on for the line's sake, which
// ships as soon as it can where that does not make the plan dearer.
func Line(s *shop.Shop, p *plan.Plan, line int, o Options) *Explanation {
	in := instance.New(s)
	a := answer.Read(in, p)
	o.Tries = o.tries(a)
	lines := binding.Lines(a)
	lines[line].Binds = binding.Causes(a, line)
	e := &Explanation{Line: lines[line], Plan: p.Cost.Total, Tries: o.Tries}
	var mates []binding.Line
	for _, l := range together(in, line) {
		mates = append(mates, lines[l])
	}
	list := ranked(in, mates, mostRelaxed(a))
	c := newComparison(s, a, aimAt(in, line), o)
	for _, v := range c.compare(list) {
		if v == nil {
			e.LeftOut++
			continue
		}
		e.Gains = append(e.Gains, v.gain(in, line))
	}
	e.AsItIs = outcome(c.base, line)
	slices.SortStableFunc(e.Gains, func(x, y Gain) int { return y.compare(&x) })
	return e
}
