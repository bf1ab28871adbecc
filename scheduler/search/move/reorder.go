package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/line"
)

// Reorder sends a load's runs through the shop in another order, or cuts its
// prepregs in another.
type Reorder struct{}

// Name returns the move's name in a trace.
func (Reorder) Name() string { return "reorder" }

// Propose proposes to put one run elsewhere, or all in the order that saves
// set-ups; or to begin cutting with another prepreg.
func (Reorder) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	next := l.Again()
	next.ID = a.NewID()
	next.Latest = l.In + l.LateAtMost()
	switch {
	case r.IntN(3) == 0:
		cuts := a.In.Sections[l.Runs[r.IntN(len(l.Runs))].Section].Cuts
		next.Cuts = line.CutOrder{First: cuts[r.IntN(len(cuts))].Prepreg, Down: r.IntN(2) == 0}
	case len(l.Runs) < 2:
		return answer.Change{}, false
	case r.IntN(4) == 0:
		next.Runs = construct.Sorted(a.In, l.Runs)
	default:
		next.Runs = elsewhere(l.Runs, r.IntN(len(l.Runs)), r.IntN(len(l.Runs)))
	}
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}, true
}

// elsewhere returns a list with the i-th moved to the j-th place.
func elsewhere[T any](list []T, i, j int) []T {
	out := slices.Delete(slices.Clone(list), i, i+1)
	return slices.Insert(out, j, list[i])
}
