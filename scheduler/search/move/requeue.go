package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Requeue lets loads that want the same mandrels have them in another order: each
// goes in as soon as those before it have given them back.
type Requeue struct{}

// Name returns the move's name in a trace.
func (Requeue) Name() string { return "requeue" }

// Propose proposes to place two to six loads anew that have a mandrel type one after
// the other, half of the time one that a late product waits for; one of them gets
// another turn.
func (Requeue) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	if _, o := late(a, r); o != nil && r.IntN(2) == 0 {
		l = o
	}
	mandrel := a.In.Sections[l.Runs[r.IntN(len(l.Runs))].Section].Mandrel
	list := stretch(inOrder(withMandrel(a, mandrel)), r, 2+r.IntN(5))
	if len(list) < 2 {
		return answer.Change{}, false
	}
	from, last := max(0, list[0].In-r.IntN(2*1440)), list[len(list)-1]
	c := answer.Change{Out: list}
	for _, l := range elsewhere(list, r.IntN(len(list)), r.IntN(len(list))) {
		next := l.Again()
		next.ID = a.NewID()
		next.Target, next.Latest = from, last.In+l.LateAtMost()
		c.In = append(c.In, next)
	}
	return c, true
}

// withMandrel returns the loads with pieces on a mandrel type.
func withMandrel(a *answer.Answer, mandrel int) (list []*line.Load) {
	for _, l := range a.Loads {
		if slices.ContainsFunc(l.Runs, func(run rack.Run) bool { return a.In.Sections[run.Section].Mandrel == mandrel }) {
			list = append(list, l)
		}
	}
	return list
}
