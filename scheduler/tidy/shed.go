package tidy

import (
	"cmp"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// shed takes pieces out of loads that are made in the place of others that come
// in, where they bring nothing. To the cost it is mostly all one, but not to
// those who would make them.
func shed(a *answer.Answer) {
	for section := range a.Spare {
		for n := -a.Spare[section]; n > 0; n = min(n/2, -a.Spare[section]) {
			for n <= -a.Spare[section] && shedFrom(a, section, n) {
			}
		}
	}
}

// shedFrom takes n pieces of a section, or all that there are, out of the latest
// load that lets them go at no cost. It reports false where none does.
func shedFrom(a *answer.Answer, section, n int) bool {
	loads := slices.Clone(a.Loads)
	slices.SortFunc(loads, func(x, y *line.Load) int { return cmp.Or(cmp.Compare(y.In, x.In), cmp.Compare(y.ID, x.ID)) })
	for _, l := range loads {
		if l.Pieces(section) == 0 {
			continue
		}
		c, ok := lighter(a, l, section, n)
		before := a.Cost().Total()
		if !ok || !a.Try(c) {
			continue
		}
		if a.Cost().Total() <= before {
			a.Keep()
			return true
		}
		a.Undo()
	}
	return false
}

// lighter returns the change in which a load has n pieces of a section fewer.
func lighter(a *answer.Answer, l *line.Load, section, n int) (c answer.Change, ok bool) {
	c.Out = []*line.Load{l}
	var runs []rack.Run
	for _, run := range l.Runs {
		if run.Section == section {
			run.Pieces -= n
		}
		if run.Pieces > 0 {
			runs = append(runs, run)
		}
	}
	if len(runs) == 0 {
		return c, true
	}
	next, ok := line.NewLoad(a.In, a.NewID(), l.Oven, l.Profile, runs)
	if ok {
		next.Target, next.Patience, next.Haste = l.Target, l.Patience, l.Haste
		c.In = append(c.In, next)
	}
	return c, ok
}
