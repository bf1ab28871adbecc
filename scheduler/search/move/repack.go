package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Repack takes apart a few loads that follow each other and fills as few loads
// as it can with their pieces.
type Repack struct{}

// Name returns the move's name in a trace.
func (Repack) Name() string { return "repack" }

// Propose proposes other loads, at the times of the old ones, for the pieces of
// two to four neighbours in time.
func (Repack) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	old := neighbours(a, r, 2+r.IntN(3))
	if len(old) < 2 {
		return answer.Change{}, false
	}
	var runs []rack.Run
	for _, l := range old {
		runs = append(runs, l.Runs...)
	}
	jumble(r, runs)
	boxes := emptyLike(old)
	if r.IntN(2) == 0 {
		k := r.IntN(len(boxes))
		boxes = append(boxes[:k], boxes[k+1:]...)
	}
	for _, run := range runs {
		for _, b := range boxes {
			run.Pieces -= b.take(a.In, run)
		}
		if run.Pieces > 0 {
			return answer.Change{}, false
		}
	}
	return filled(a, old, boxes)
}

// neighbours returns n loads that follow each other in time, the earliest
// first.
func neighbours(a *answer.Answer, r *rand.Rand, n int) []*line.Load {
	seed := pick(a, r)
	if seed == nil {
		return nil
	}
	var list []*line.Load
	for _, l := range a.Loads {
		if d := l.In - seed.In; d < 12*1440 && d > -12*1440 {
			list = append(list, l)
		}
	}
	list = inOrder(list)
	at := slices.Index(list, seed)
	first := max(0, at-r.IntN(n+1))
	span := list[first:min(len(list), first+n+r.IntN(3))]
	for len(span) > n {
		k := r.IntN(len(span))
		span = slices.Delete(slices.Clone(span), k, k+1)
	}
	return slices.Clone(span)
}

// jumble puts runs out of order a little: mostly those that came first stay
// first.
func jumble(r *rand.Rand, runs []rack.Run) {
	if r.IntN(4) == 0 {
		r.Shuffle(len(runs), func(i, j int) { runs[i], runs[j] = runs[j], runs[i] })
		return
	}
	for range len(runs) / 4 {
		i, j := r.IntN(len(runs)), r.IntN(len(runs))
		runs[i], runs[j] = runs[j], runs[i]
	}
}

// A box is a load while it is being filled.
type box struct {
	like *line.Load
	runs []rack.Run
}

func emptyLike(loads []*line.Load) []*box {
	boxes := make([]*box, len(loads))
	for i, l := range loads {
		boxes[i] = &box{like: l}
	}
	return boxes
}

// take adds as many pieces of a run as fit, and returns how many.
func (b *box) take(in *instance.Instance, run rack.Run) int {
	if run.Pieces == 0 || !in.Sections[run.Section].Profiles[b.like.Profile] {
		return 0
	}
	low, high := 0, min(run.Pieces, mandrelRoom(in, b.runs, run.Section))
	for n := high; low < high; n = (low + high + 1) / 2 {
		if line.Fits(in, b.like.Oven, plus(b.runs, run.Section, n)) {
			low = n
		} else {
			high = n - 1
		}
	}
	if low > 0 {
		b.runs = plus(b.runs, run.Section, low)
	}
	return low
}

// filled turns boxes into a change that replaces the old loads.
func filled(a *answer.Answer, old []*line.Load, boxes []*box) (answer.Change, bool) {
	c := answer.Change{Out: old}
	for _, b := range boxes {
		if len(b.runs) == 0 {
			continue
		}
		l, ok := changed(a, b.like, sorted(a.In, b.runs))
		if !ok {
			return answer.Change{}, false
		}
		c.In = append(c.In, l)
	}
	return c, true
}
