package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Reassign gives a load another oven, another profile, or both.
type Reassign struct{}

// Name returns the move's name in a trace.
func (Reassign) Name() string { return "reassign" }

// Propose proposes another oven or profile for a load.
func (Reassign) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	oven, profile, ok := way(a, r, l)
	if !ok {
		return answer.Change{}, false
	}
	next, ok := made(a, l, oven, profile, l.Runs)
	if !ok {
		return answer.Change{}, false
	}
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, true
}
