package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Patience changes how much earlier than it must a load's task may start to
// save a set-up, and whether the load strides to its start. Where loads are worked as
// early as they can be, each minute counts, and none strides.
type Patience struct{}

// Name returns the move's name in a trace.
func (Patience) Name() string { return "patience" }

// Propose proposes another patience for a load.
func (Patience) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	next := l.Again()
	next.ID = a.NewID()
	next.Latest = l.In + l.LateAtMost()
	next.Patience = []line.Tick{0, 60, 240, 480, 1440, 2880}[r.IntN(6)]
	next.Haste = min(next.Patience, []line.Tick{0, 15, 45}[r.IntN(3)])
	next.Strides = !next.Eager && r.IntN(4) > 0
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, next.Patience != l.Patience || next.Haste != l.Haste
}
