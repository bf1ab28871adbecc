package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/rack"
)

// Swap lets two runs of two loads change places.
type Swap struct{}

// Name returns the move's name in a trace.
func (Swap) Name() string { return "swap" }

// Propose proposes to exchange a run of one load for a run of another.
func (Swap) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	x := pick(a, r)
	if x == nil {
		return answer.Change{}, false
	}
	y := near(a, r, x, 8)
	if y == nil {
		return answer.Change{}, false
	}
	p, q := x.Runs[r.IntN(len(x.Runs))], y.Runs[r.IntN(len(y.Runs))]
	if p.Section == q.Section {
		return answer.Change{}, false
	}
	p.Pieces, q.Pieces = some(a.In, r, p), some(a.In, r, q)
	return traded(a, x, y, []rack.Run{p}, []rack.Run{q})
}
