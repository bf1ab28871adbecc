package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Along lets loads that come after those of a change, and want the same mandrels, be
// placed anew with it, one to four of them: sooner, where it leaves room for them.
func Along(a *answer.Answer, r *rand.Rand, c answer.Change) answer.Change {
	if len(c.Out) == 0 {
		return c
	}
	f := followersOf(a.In, c.Out)
	left, sooner := 1+r.IntN(mostAlong), alongBy+r.IntN(alongBy)
	out, in := slices.Clone(c.Out), slices.Clone(c.In)
	for _, l := range inOrder(a.Loads) {
		if left == 0 {
			break
		}
		if slices.Contains(c.Out, l) || !f.has(l) {
			continue
		}
		next := l.Again()
		next.ID = a.NewID()
		next.Target, next.Latest = max(f.from, l.In-sooner), l.In+l.LateAtMost()
		out, in = append(out, l), append(in, next)
		left--
	}
	c.Out, c.In = out, in
	return c
}

// How many loads come along at most, and how much sooner they go in than they did:
// from once to twice so much.
const (
	mostAlong = 4
	alongBy   = 1440
)

// followers are the loads that a change may make room for, or take it from.
type followers struct {
	in       *instance.Instance
	from     line.Tick
	mandrels []bool
}

func followersOf(in *instance.Instance, loads []*line.Load) *followers {
	f := &followers{in: in, from: in.Horizon, mandrels: make([]bool, len(in.Mandrels))}
	for _, l := range loads {
		f.from = min(f.from, l.In)
		for _, run := range l.Runs {
			f.mandrels[in.Sections[run.Section].Mandrel] = true
		}
	}
	return f
}

func (f *followers) has(l *line.Load) bool {
	return l.In >= f.from && slices.ContainsFunc(l.Runs, func(run rack.Run) bool {
		return f.mandrels[f.in.Sections[run.Section].Mandrel]
	})
}
