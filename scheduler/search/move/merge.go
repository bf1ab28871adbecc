package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Merge makes one load of two.
type Merge struct{}

// Name returns the move's name in a trace.
func (Merge) Name() string { return "merge" }

// Propose proposes to cure two loads together, in the oven and at the time of
// either.
func (Merge) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	x := pick(a, r)
	if x == nil {
		return answer.Change{}, false
	}
	y := near(a, r, x, 10)
	if y == nil {
		return answer.Change{}, false
	}
	both, ok := changed(a, x, combined(a.In, x.Runs, y.Runs))
	return answer.Change{Out: []*line.Load{x, y}, In: []*line.Load{both}}, ok
}
