package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Turn lets two loads take each other's turn.
type Turn struct{}

// Name returns the move's name in a trace.
func (Turn) Name() string { return "turn" }

// Propose proposes to exchange the oven starts of two loads, and their ovens
// where that may be.
func (Turn) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	x := pick(a, r)
	if x == nil {
		return answer.Change{}, false
	}
	y := near(a, r, x, 12)
	if y == nil || r.IntN(8) == 0 {
		y = pick(a, r)
	}
	if y == x {
		return answer.Change{}, false
	}
	if x.In > y.In {
		x, y = y, x
	}
	first, ok := inTurnOf(a, x, y)
	if !ok {
		return answer.Change{}, false
	}
	second, ok := inTurnOf(a, y, x)
	if ok && first.Oven == second.Oven {
		first.Latest = max(first.Latest, y.Out) // the second may be the longer
		if r.IntN(2) == 0 {
			first.Target = second.Target // as soon as the second leaves room
		}
	}
	return answer.Change{Out: []*line.Load{x, y}, In: []*line.Load{second, first}}, ok
}

// inTurnOf returns a load like l at the time of other, in its oven if that has
// l's profile and room for it, else in its own.
func inTurnOf(a *answer.Answer, l, other *line.Load) (*line.Load, bool) {
	next, ok := made(a, l, other.Oven, l.Profile, l.Runs)
	if !ok || !offers(a, other.Oven, l.Profile) {
		if next, ok = changed(a, l, l.Runs); !ok {
			return nil, false
		}
	}
	next.Target, next.Latest = min(other.Target, other.In), other.In+l.LateAtMost()
	return next, true
}

func offers(a *answer.Answer, oven, profile int) bool {
	for _, p := range a.In.Ovens[oven].Profiles {
		if p == profile {
			return true
		}
	}
	return false
}
