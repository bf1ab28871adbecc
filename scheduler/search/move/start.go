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

// Propose proposes to hang spare pieces of a section, or those of some sets of
// its product, in a load that there is, or in loads of their own.
func (Start) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	section, ok := spare(a, r)
	if !ok {
		return answer.Change{}, false
	}
	runs := []rack.Run{{Section: section, Pieces: few(r, a.Spare[section])}}
	if r.IntN(2) == 0 {
		runs = spareSets(a, r, a.In.Sections[section].Product)
	}
	if to := pick(a, r); to != nil && r.IntN(3) > 0 {
		bigger, ok := changed(a, to, combined(a.In, to.Runs, runs))
		return answer.Change{Out: []*line.Load{to}, In: []*line.Load{bigger}}, ok
	}
	own, ok := begun(a, r, runs, r.IntN(a.In.Horizon))
	return answer.Change{In: own}, ok
}

// few returns a number from 1 to n: mostly n itself or a small one.
func few(r *rand.Rand, n int) int {
	switch r.IntN(4) {
	case 0:
		return 1 + r.IntN(n)
	case 1:
		return 1 + r.IntN(min(n, 8))
	}
	return n
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

// spareSets returns the spare pieces of a product, one of which it must have,
// for a number of sets.
func spareSets(a *answer.Answer, r *rand.Rand, product int) (runs []rack.Run) {
	most := 0
	for _, s := range a.In.Products[product].Sections {
		most = max(most, a.Spare[s])
	}
	sets := few(r, most)
	for _, s := range a.In.Products[product].Sections {
		if n := max(0, a.Spare[s]); n > 0 {
			runs = append(runs, rack.Run{Section: s, Pieces: (n*sets + most - 1) / most})
		}
	}
	return sorted(a.In, runs)
}

// begun returns new loads for runs, each as full as it can be and for an oven and
// a profile drawn at random, that go in from a tick on; ok is false where a piece
// finds no load.
func begun(a *answer.Answer, r *rand.Rand, runs []rack.Run, from line.Tick) (loads []*line.Load, ok bool) {
	for len(runs) > 0 {
		ways := a.In.Ways(runs[0].Section)
		if len(ways) == 0 {
			return nil, false
		}
		w := ways[r.IntN(len(ways))]
		b := box{like: &line.Load{Oven: w.Oven, Profile: w.Profile}}
		for _, run := range runs {
			runs = without(runs, run.Section, b.take(a.In, run))
		}
		l, ok := line.NewLoad(a.In, a.NewID(), w.Oven, w.Profile, b.runs)
		if !ok || len(b.runs) == 0 {
			return nil, false
		}
		l.Target = from
		loads = append(loads, l)
	}
	return loads, true
}
