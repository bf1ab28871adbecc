package move

import (
	"iter"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// startSpare is the sweep that takes up the spare pieces of each product that
// concerns: all of them or, where that does not do, half as many and so on, in a
// load that there is or in one of their own.
func startSpare(a *answer.Answer, concerns func(int) bool) iter.Seq[answer.Change] {
	return func(yield func(answer.Change) bool) {
		for p := range a.In.Products {
			for part := 1; concerns(p) && part <= leastPart; part *= 2 {
				runs := spareOf(a, &a.In.Products[p], part)
				if len(runs) > 0 && !takenUp(a, runs, yield) {
					return
				}
			}
		}
	}
}

// Spare pieces are divided into so many parts at most; and a load of them has many
// tries, for it may go in at any time.
const (
	leastPart  = 16
	startTries = 80
)

// spareOf returns a part of a product's spare pieces.
func spareOf(a *answer.Answer, p *instance.Product, part int) (runs []rack.Run) {
	for _, s := range p.Sections {
		if n := a.Spare[s]; n > 0 {
			runs = append(runs, rack.Run{Section: s, Pieces: (n + part - 1) / part})
		}
	}
	return sorted(a.In, runs)
}

// takenUp yields the changes in which a load takes runs up; it reports false
// where no more are wanted.
func takenUp(a *answer.Answer, runs []rack.Run, yield func(answer.Change) bool) bool {
	left := func() bool { return a.Spare[runs[0].Section] >= runs[0].Pieces }
	for _, way := range a.In.Ways(runs[0].Section) {
		if !left() {
			return true
		}
		own, ok := made(a, &line.Load{In: a.In.Horizon, Patience: construct.Patience}, way.Oven, way.Profile, runs)
		if !ok {
			continue
		}
		if own.Tries = startTries; !yield(answer.Change{In: []*line.Load{own}}) {
			return false
		}
	}
	for _, to := range inOrder(a.Loads) {
		if !to.Placed() || !left() {
			continue
		}
		bigger, ok := changed(a, to, combined(a.In, to.Runs, runs))
		if ok && !yield(answer.Change{Out: []*line.Load{to}, In: []*line.Load{bigger}}) {
			return false
		}
	}
	return true
}
