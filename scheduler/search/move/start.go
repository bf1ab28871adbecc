package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
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
	left := startable(a, r)
	section, ok := left.draw(r)
	if !ok {
		return answer.Change{}, false
	}
	runs := []rack.Run{{Section: section, Pieces: few(r, left[section])}}
	if r.IntN(2) == 0 {
		runs = left.sets(a.In, r, a.In.Sections[section].Product)
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

// A store is how many pieces of each section can still be started.
type store []int

// startable returns what can be started: what is spare, and now and then also
// what comes in later than it might be wanted, to be made anew.
func startable(a *answer.Answer, r *rand.Rand) store {
	if r.IntN(4) > 0 {
		return a.Spare
	}
	left := slices.Clone(a.Spare)
	for s := range left {
		left[s] += a.In.Sections[s].Anew
	}
	return left
}

// draw returns a section at random of which something is left.
func (left store) draw(r *rand.Rand) (section int, ok bool) {
	first := r.IntN(len(left) + 1)
	for i := range left {
		if s := (first + i) % len(left); left[s] > 0 {
			return s, true
		}
	}
	return 0, false
}

// has reports whether anything is left of a product.
func (left store) has(p *instance.Product) bool {
	return slices.ContainsFunc(p.Sections, func(s int) bool { return left[s] > 0 })
}

// sets returns what is left of a product, which must be something, for a number
// of sets.
func (left store) sets(in *instance.Instance, r *rand.Rand, product int) (runs []rack.Run) {
	most := 0
	for _, s := range in.Products[product].Sections {
		most = max(most, left[s])
	}
	sets := few(r, most)
	for _, s := range in.Products[product].Sections {
		if left[s] > 0 {
			runs = append(runs, rack.Run{Section: s, Pieces: (left[s]*sets + most - 1) / most})
		}
	}
	return sorted(in, runs)
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
