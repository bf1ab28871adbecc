package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Precede gives a load its place before others near it have theirs. What comes
// later in time may so have the benches, mandrels or people for which what comes
// sooner can wait.
type Precede struct{}

// Name returns the move's name in a trace.
func (Precede) Name() string { return "precede" }

// Propose proposes another time, and maybe another oven or profile, for a load, or
// to start spare pieces; and to place one or two loads near it anew after that.
func (Precede) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	c, ok := leading(a, r)
	if !ok || len(a.Loads) == 0 {
		return answer.Change{}, false
	}
	c.InTurn = true
	loads, meant := len(c.In), &line.Load{In: c.In[0].Target}
	for range 1 + r.IntN(2) {
		l := near(a, r, meant, precededBy)
		if l == nil || slices.Contains(c.Out, l) {
			continue
		}
		next := l.Again()
		next.ID = a.NewID()
		next.Latest = l.In + l.LateAtMost()
		c.Out, c.In = append(c.Out, l), append(c.In, next)
	}
	return c, len(c.In) > loads
}

// precededBy is how many days from a load's the oven starts of those lie that it
// precedes.
const precededBy = 2

// leading returns a change that moves a load, or starts spare pieces in loads of their
// own.
func leading(a *answer.Answer, r *rand.Rand) (c answer.Change, ok bool) {
	if r.IntN(3) == 0 {
		left := startable(a, r)
		section, ok := left.draw(r)
		if !ok {
			return c, false
		}
		at := r.IntN(a.In.Horizon)
		c.In, ok = begun(a, r, left.sets(a.In, r, a.In.Sections[section].Product), at)
		return c, ok
	}
	l := pick(a, r)
	if l == nil {
		return c, false
	}
	oven, profile := l.Oven, l.Profile
	if r.IntN(2) == 0 {
		if oven, profile, ok = way(a, r, l); !ok {
			return c, false
		}
	}
	next, ok := made(a, l, oven, profile, l.Runs)
	if !ok {
		return c, false
	}
	next.Target = min(max(0, l.In+r.IntN(2*precededBy*1440)-precededBy*1440), a.In.Horizon)
	next.Latest = next.Target + l.LateAtMost()
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, true
}
