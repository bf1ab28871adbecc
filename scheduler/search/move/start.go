package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Start takes up spare pieces, which no load carries yet.
type Start struct{}

// Name returns the move's name in a trace.
func (Start) Name() string { return "start" }

// Propose proposes to hang a product's spare pieces in a load that there is, or
// in one of their own.
func (Start) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	section, ok := spare(a, r)
	if !ok {
		return answer.Change{}, false
	}
	n := a.Spare[section]
	switch r.IntN(4) {
	case 0:
		n = 1 + r.IntN(n)
	case 1:
		n = 1 + r.IntN(min(n, 8))
	}
	if to := pick(a, r); to != nil && r.IntN(3) > 0 {
		bigger, ok := changed(a, to, with(a.In, to.Runs, section, n))
		return answer.Change{Out: []*line.Load{to}, In: []*line.Load{bigger}}, ok
	}
	ways := a.In.Ways(section)
	if len(ways) == 0 {
		return answer.Change{}, false
	}
	w := ways[r.IntN(len(ways))]
	own, ok := line.NewLoad(a.In, a.NewID(), w.Oven, w.Profile, []rack.Run{{Section: section, Pieces: n}})
	if ok {
		own.Target = r.IntN(a.In.Horizon)
	}
	return answer.Change{In: []*line.Load{own}}, ok
}

// spare returns a section at random that has spare pieces.
func spare(a *answer.Answer, r *rand.Rand) (section int, ok bool) {
	first := r.IntN(len(a.Spare) + 1)
	for i := range a.Spare {
		if s := (first + i) % len(a.Spare); a.Spare[s] > 0 {
			return s, true
		}
	}
	return 0, false
}
