package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Close takes a load apart and hangs its pieces in others.
type Close struct{}

// Name returns the move's name in a trace.
func (Close) Name() string { return "close" }

// Propose proposes to spread a load's runs over at most three loads of about
// the same time.
func (Close) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	left := l.Runs
	c := answer.Change{Out: []*line.Load{l}}
	for range 3 {
		to := near(a, r, l, 10)
		if to == nil || contains(c.Out, to) {
			continue
		}
		next, rest := takeIn(a, to, left)
		if next == nil {
			continue
		}
		c.Out, c.In = append(c.Out, to), append(c.In, next)
		if left = rest; len(left) == 0 {
			return c, true
		}
	}
	return answer.Change{}, false
}

// takeIn returns a load like to with as many of the runs as fit whole, and the
// runs that do not; nil where none fits.
func takeIn(a *answer.Answer, to *line.Load, runs []rack.Run) (next *line.Load, rest []rack.Run) {
	have := to.Runs
	for _, run := range runs {
		if more, ok := changed(a, to, with(a.In, have, run.Section, run.Pieces)); ok {
			next, have = more, more.Runs
			continue
		}
		rest = append(rest, run)
	}
	return next, rest
}

func contains(loads []*line.Load, l *line.Load) bool {
	for _, x := range loads {
		if x == l {
			return true
		}
	}
	return false
}
