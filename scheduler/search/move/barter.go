package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Barter lets as many pieces of two loads that want the same mandrels change
// places: neither load then needs more of them, and both hang about as they did.
type Barter struct{}

// Name returns the move's name in a trace.
func (Barter) Name() string { return "barter" }

// Propose proposes to exchange pieces of a run, half of the time of a late
// product's, for as many of another section on the same mandrel type.
func (Barter) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	x, give := pick(a, r), rack.Run{}
	if x == nil {
		return answer.Change{}, false
	}
	give = x.Runs[r.IntN(len(x.Runs))]
	if product, l := late(a, r); l != nil && r.IntN(2) == 0 {
		runs := productRuns(a.In, l, product)
		x, give = l, runs[r.IntN(len(runs))]
	}
	y, take := sameMandrel(a, r, x, give.Section)
	if y == nil {
		return answer.Change{}, false
	}
	n := some(a.In, r, rack.Run{Section: give.Section, Pieces: min(give.Pieces, take.Pieces)})
	give.Pieces, take.Pieces = n, n
	return traded(a, x, y, []rack.Run{give}, []rack.Run{take})
}

// sameMandrel returns another load, not long before or after, with a run of
// another section that wants the same mandrels; nil where there is none.
func sameMandrel(a *answer.Answer, r *rand.Rand, l *line.Load, section int) (*line.Load, rack.Run) {
	mandrel := a.In.Sections[section].Mandrel
	first := r.IntN(len(a.Loads))
	for i := range a.Loads {
		o := a.Loads[(first+i)%len(a.Loads)]
		if d := o.In - l.In; o == l || d > barterWithin || -d > barterWithin {
			continue
		}
		for _, run := range o.Runs {
			if run.Section != section && a.In.Sections[run.Section].Mandrel == mandrel {
				return o, run
			}
		}
	}
	return nil, rack.Run{}
}

// barterWithin is how far apart the two loads' oven starts are at most.
const barterWithin = 14 * 1440
