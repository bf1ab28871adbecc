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

// A Study tells what one thing more would bring a plan as a whole, and each of
// its late lines.
type Study struct {
	AsItIs  float64           // what the plan comes to cost with nothing more
	Things  []Thing           // all that was tried, what brings most first
	Lines   map[string][]Gain // by the line's id: what brings it anything, the most first
	LeftOut int               // relaxations that there was no time to try
	Tries   int               // changes tried in each shop, in each of a few rounds at most
}

// A Thing is what one thing more brings a plan.
type Thing struct {
	With       relax.Relaxation
	What       string  // the same in words
	PlanSaves  float64 // of the plan's cost
	Lines      int     // late lines that gain
	DaysSooner int     // by which these ship sooner, summed
	SetsMore   int     // of these that are planned
	Tries      int     // changes tried
}

// Of studies a valid plan of a shop, of which some lines are late or not wholly
// planned: told with what binds them, as by binding.Of. What is named there is
// tried first, as far as there is time; the plan goes on for its whole cost's
// sake, so that a line may gain less than it can for itself.
func Of(s *shop.Shop, p *plan.Plan, late []binding.Line, o Options) *Study {
	in := instance.New(s)
	a := answer.Read(in, p)
	o.Tries = o.tries(a)
	study := &Study{Tries: o.Tries, Lines: map[string][]Gain{}}
	list := ranked(in, late, mostRelaxed(a))
	c := newComparison(s, a, nil, o)
	study.AsItIs = c.base.total
	for _, v := range c.compare(list) {
		if v == nil {
			study.LeftOut++
			continue
		}
		study.add(in, v, late)
	}
	for _, gains := range study.Lines {
		slices.SortStableFunc(gains, func(x, y Gain) int { return y.compare(&x) })
	}
	slices.SortStableFunc(study.Things, func(x, y Thing) int { return cmp.Compare(y.PlanSaves, x.PlanSaves) })
	return study
}

// add notes what a variation brings the plan and the late lines.
func (s *Study) add(in *instance.Instance, v *variation, late []binding.Line) {
	t := Thing{With: v.with, What: v.with.String(), PlanSaves: v.without.total - v.more.total, Tries: v.tries}
	for i := range late {
		g := v.gain(in, slices.IndexFunc(in.Lines, func(l instance.Line) bool { return l.ID == late[i].Line }))
		if !g.Brings() {
			continue
		}
		t.Lines++
		t.DaysSooner += max(0, g.DaysSooner)
		t.SetsMore += max(0, g.SetsMore)
		s.Lines[late[i].Line] = append(s.Lines[late[i].Line], g)
	}
	s.Things = append(s.Things, t)
}
