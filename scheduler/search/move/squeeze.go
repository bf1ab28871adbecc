package move

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Squeeze places some loads that follow each other anew, one after the other
// and as early as each can be, so that time which others have left is used.
type Squeeze struct{}

// Name returns the move's name in a trace.
func (Squeeze) Name() string { return "squeeze" }

// Propose proposes to place three to twelve loads anew, now and then in another
// order.
func (Squeeze) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	list := stretch(inOrder(a.Loads), r, 3+r.IntN(10))
	if len(list) < 2 {
		return answer.Change{}, false
	}
	from := max(0, list[0].In-r.IntN(2*1440))
	for range r.IntN(3) {
		k := r.IntN(len(list) - 1)
		list[k], list[k+1] = list[k+1], list[k]
	}
	c := answer.Change{Out: list}
	for _, l := range list {
		next := l.Again()
		next.ID = a.NewID()
		next.Target, next.Latest = from, l.In+l.LateAtMost()
		c.In = append(c.In, next)
	}
	return c, true
}

// stretch draws n of some loads that follow each other; all, where there are not more.
func stretch(list []*line.Load, r *rand.Rand, n int) []*line.Load {
	if len(list) <= n {
		return list
	}
	first := r.IntN(len(list) - n + 1)
	return list[first : first+n]
}

// inOrder returns loads in the order in which they go in.
func inOrder(loads []*line.Load) []*line.Load {
	list := slices.Clone(loads)
	slices.SortFunc(list, func(x, y *line.Load) int {
		return cmp.Or(cmp.Compare(x.In, y.In), cmp.Compare(x.ID, y.ID))
	})
	return list
}
