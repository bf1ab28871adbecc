package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Drop leaves work out: where the late days of its sets cost less than their
// cure, that is the cheaper plan. Start brings it back.
type Drop struct{}

// Name returns the move's name in a trace.
func (Drop) Name() string { return "drop" }

// Propose proposes to leave out a load, or one product's runs of it.
func (Drop) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	c := answer.Change{Out: []*line.Load{l}}
	if r.IntN(2) == 0 {
		return c, true
	}
	rest := l.Runs
	for _, run := range productRuns(a.In, l, a.In.Sections[l.Runs[r.IntN(len(l.Runs))].Section].Product) {
		rest = without(rest, run.Section, run.Pieces)
	}
	if len(rest) == 0 {
		return c, true
	}
	smaller, ok := changed(a, l, rest)
	c.In = append(c.In, smaller)
	return c, ok
}
