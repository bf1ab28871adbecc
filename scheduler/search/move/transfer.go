package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Transfer takes pieces of one run to another load.
type Transfer struct{}

// Name returns the move's name in a trace.
func (Transfer) Name() string { return "transfer" }

// Propose proposes to move a run, or a part of it, to a load of about the same
// time.
func (Transfer) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	from := pick(a, r)
	if from == nil {
		return answer.Change{}, false
	}
	to := near(a, r, from, 8)
	if to == nil {
		return answer.Change{}, false
	}
	run := from.Runs[r.IntN(len(from.Runs))]
	n := min(some(a.In, r, run), mandrelRoom(a.In, to.Runs, run.Section))
	if n <= 0 {
		return answer.Change{}, false
	}
	return given(a, from, to, rack.Run{Section: run.Section, Pieces: n})
}

// given returns the change in which one load gives pieces of a run to another.
func given(a *answer.Answer, from, to *line.Load, run rack.Run) (answer.Change, bool) {
	bigger, ok := changed(a, to, with(a.In, to.Runs, run.Section, run.Pieces))
	if !ok {
		return answer.Change{}, false
	}
	c := answer.Change{Out: []*line.Load{from, to}, In: []*line.Load{bigger}}
	if rest := without(from.Runs, run.Section, run.Pieces); len(rest) > 0 {
		smaller, ok := changed(a, from, rest)
		if !ok {
			return answer.Change{}, false
		}
		c.In = append(c.In, smaller)
	}
	return c, true
}
