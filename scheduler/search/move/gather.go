package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Gather brings pieces of one section that are in two loads into one, which
// saves tasks and set-ups.
type Gather struct{}

// Name returns the move's name in a trace.
func (Gather) Name() string { return "gather" }

// Propose proposes to add a run to the run of the same section in another load,
// as far as there are mandrels.
func (Gather) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	from := pick(a, r)
	if from == nil {
		return answer.Change{}, false
	}
	run := from.Runs[r.IntN(len(from.Runs))]
	to := withSection(a, r, from, run.Section)
	if to == nil {
		return answer.Change{}, false
	}
	run.Pieces = min(run.Pieces, mandrelRoom(a.In, to.Runs, run.Section))
	if run.Pieces <= 0 {
		return answer.Change{}, false
	}
	return given(a, from, to, run)
}

// withSection returns another load of about the same time that carries a
// section too.
func withSection(a *answer.Answer, r *rand.Rand, l *line.Load, section int) *line.Load {
	first := r.IntN(len(a.Loads))
	for i := range a.Loads {
		o := a.Loads[(first+i)%len(a.Loads)]
		if d := o.In - l.In; o != l && d < 8*1440 && d > -8*1440 && o.Pieces(section) > 0 {
			return o
		}
	}
	return nil
}
