package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Shift moves a load to another day, or by some hours.
type Shift struct{}

// Name returns the move's name in a trace.
func (Shift) Name() string { return "shift" }

// Propose proposes another target for a load.
func (Shift) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	next := l.Again()
	next.ID = a.NewID()
	next.Target = otherTime(a, r, l)
	next.Latest = next.Target + l.LateAtMost()
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, next.Target != l.In
}

// otherTime returns an oven start within a few days of a load's: the start of
// a day, or some hours from its own.
func otherTime(a *answer.Answer, r *rand.Rand, l *line.Load) line.Tick {
	t := l.In + r.IntN(960) - 480
	if r.IntN(3) > 0 {
		day := a.In.Day(l.In) + r.IntN(11) - 5
		t = a.In.Midnight(day)
	}
	return min(max(t, 0), a.In.Horizon)
}
