package move

import (
	"iter"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// squeezeAll returns the sweep that places n loads that follow each other anew,
// each as early as it can be; then n others, of which half are the same.
func squeezeAll(n int) func(*answer.Answer, func(int) bool) iter.Seq[answer.Change] {
	return func(a *answer.Answer, _ func(int) bool) iter.Seq[answer.Change] {
		return func(yield func(answer.Change) bool) {
			for at := 0; at+1 < len(a.Loads); at += n / 2 {
				list := inOrder(a.Loads)
				if !yield(squeezed(a, list[at:min(len(list), at+n)])) {
					return
				}
			}
		}
	}
}

// squeezed returns the change in which loads are placed one after the other, as
// early as each can be from a day before the first on.
func squeezed(a *answer.Answer, list []*line.Load) answer.Change {
	c := answer.Change{Out: list}
	for _, l := range list {
		next := l.Again()
		next.ID = a.NewID()
		next.Target, next.Latest = max(0, list[0].In-1440), l.In+l.LateAtMost()
		c.In = append(c.In, next)
	}
	return c
}

// placeSooner is the sweep that places each load sooner, in its own oven or in
// another.
func placeSooner(a *answer.Answer, _ func(int) bool) iter.Seq[answer.Change] {
	return func(yield func(answer.Change) bool) {
		for _, l := range inOrder(a.Loads) {
			for oven := range a.In.Ovens {
				next, ok := sooner(a, l, oven, l.Runs)
				if ok && !yield(answer.Change{Out: []*line.Load{l}, In: []*line.Load{next}}) {
					return
				}
			}
		}
	}
}

// soonerBy is how much sooner a sweep tries to have a load in at most.
const soonerBy = 7 * 1440

// sooner returns a load of runs of l, which is placed, that goes in before it;
// ok is false where there can be none.
func sooner(a *answer.Answer, l *line.Load, oven int, runs []rack.Run) (next *line.Load, ok bool) {
	if !l.Placed() || l.In == 0 || !offers(a, oven, l.Profile) {
		return nil, false
	}
	if next, ok = made(a, l, oven, l.Profile, runs); ok {
		next.Target, next.Latest = max(0, l.In-soonerBy), l.In-1
	}
	return next, ok
}
