package construct

import (
	"cmp"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// Rebuild keeps the first loads of an answer that was built, and has a rule make the
// others anew: what goes well early on stays, while another rule is tried on the rest. It
// ends early as Build does. It reports false, and changes nothing, where the first loads
// cannot stand alone.
func Rebuild(a *answer.Answer, kept int, rule Rule, stop func() bool) bool {
	if !a.Try(answer.Change{Out: asMade(a)[kept:]}) {
		return false
	}
	a.Keep()
	b := newBuilder(a, rule)
	for _, l := range asMade(a) {
		b.free[l.Oven] = max(b.free[l.Oven], l.Out)
		b.rank(b.in.Day(l.Target)) // its pieces went to the most urgent
		b.taken(l.Runs)
	}
	b.build(stop)
	return true
}

// asMade returns the loads of an answer in the order in which they were made.
func asMade(a *answer.Answer) []*line.Load {
	return slices.SortedFunc(slices.Values(a.Loads), func(x, y *line.Load) int { return cmp.Compare(x.ID, y.ID) })
}
