package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Reorder sends a load's runs through the shop in another order.
type Reorder struct{}

// Name returns the move's name in a trace.
func (Reorder) Name() string { return "reorder" }

// Propose proposes to put one run elsewhere, or all in the order that saves
// set-ups.
func (Reorder) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil || len(l.Runs) < 2 {
		return answer.Change{}, false
	}
	next := l.Again()
	next.ID = a.NewID()
	next.Latest = l.In + lateAtMost
	if r.IntN(4) == 0 {
		next.Runs = construct.Sorted(a.In, l.Runs)
	} else {
		next.Runs = append([]rack.Run(nil), l.Runs...)
		i, j := r.IntN(len(l.Runs)), r.IntN(len(l.Runs))
		run := next.Runs[i]
		next.Runs = append(next.Runs[:i], next.Runs[i+1:]...)
		next.Runs = append(next.Runs[:j], append([]rack.Run{run}, next.Runs[j:]...)...)
	}
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, true
}
