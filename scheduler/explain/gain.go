package explain

import (
	"blankwright/scheduler/binding"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// outcome returns what becomes of a line.
func outcome(s *standing, line int) Outcome {
	l := &s.lines[line]
	return Outcome{
		Ship: l.Ship, LateSets: l.LateSets, UnallocatedSets: l.UnallocatedSets, DaysLate: l.DaysLate,
		Cost: l.Cost, PlanCost: s.total,
	}
}

// gain returns what a variation brings a line.
func (v *variation) gain(in *instance.Instance, line int) Gain {
	before, after := &v.without.lines[line], &v.more.lines[line]
	never := in.Products[in.Lines[line].Product].Never
	return Gain{
		With: v.with, What: v.with.String(), Outcome: outcome(v.more, line), Tries: v.tries,
		DaysSooner: int(ships(before, never) - ships(after, never)),
		SetsMore:   before.UnallocatedSets - after.UnallocatedSets,
		Saves:      before.Cost - after.Cost, PlanSaves: v.without.total - v.more.total,
	}
}

// ships returns when a line counts as shipped.
func ships(l *binding.Line, never shop.Date) shop.Date {
	if l.UnallocatedSets > 0 || l.Ship == nil {
		return never
	}
	return *l.Ship
}
