package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Exchange lets what late sets wait for change places with less urgent runs of
// an earlier load, which stays about as full as it was.
type Exchange struct{}

// Name returns the move's name in a trace.
func (Exchange) Name() string { return "exchange" }

// Propose proposes to bring a late product's pieces into an earlier load, in
// the place of about as many pieces of products that are not late.
func (Exchange) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	product, from := late(a, r)
	if from == nil {
		return answer.Change{}, false
	}
	to := earlier(a, r, from)
	if to == nil {
		return answer.Change{}, false
	}
	up := productRuns(a.In, from, product)
	if r.IntN(3) == 0 && len(up) > 1 {
		up = up[:1]
	}
	pieces := 0
	for _, run := range up {
		pieces += run.Pieces
	}
	down := lessUrgent(a, r, to, up, pieces)
	if len(up) == 0 || len(down) == 0 {
		return answer.Change{}, false
	}
	return traded(a, from, to, up, down)
}

// lessUrgent draws runs of a load, or parts of them, of at most so many pieces,
// mostly of products whose late sets cost less and none of those going up.
func lessUrgent(a *answer.Answer, r *rand.Rand, l *line.Load, up []rack.Run, pieces int) (down []rack.Run) {
	if len(up) == 0 {
		return nil
	}
	limit := lateShare(a, a.In.Sections[up[0].Section].Product)
	for range 2 * len(l.Runs) {
		run := l.Runs[r.IntN(len(l.Runs))]
		p := a.In.Sections[run.Section].Product
		if pieces == 0 {
			break
		}
		if has(a, up, p) || hasSection(down, run.Section) || lateShare(a, p) >= limit && r.IntN(4) > 0 {
			continue
		}
		run.Pieces = min(run.Pieces, pieces)
		pieces -= run.Pieces
		down = append(down, run)
	}
	return down
}

func has(a *answer.Answer, runs []rack.Run, product int) bool {
	for _, run := range runs {
		if a.In.Sections[run.Section].Product == product {
			return true
		}
	}
	return false
}

func hasSection(runs []rack.Run, section int) bool {
	for _, run := range runs {
		if run.Section == section {
			return true
		}
	}
	return false
}

// traded returns the change in which runs of two loads change places.
func traded(a *answer.Answer, x, y *line.Load, fromX, fromY []rack.Run) (answer.Change, bool) {
	xs, ys := x.Runs, y.Runs
	for _, run := range fromX {
		xs, ys = without(xs, run.Section, run.Pieces), with(a.In, ys, run.Section, run.Pieces)
	}
	for _, run := range fromY {
		xs, ys = with(a.In, xs, run.Section, run.Pieces), without(ys, run.Section, run.Pieces)
	}
	first, ok := changed(a, x, xs)
	if !ok {
		return answer.Change{}, false
	}
	second, ok := changed(a, y, ys)
	return answer.Change{Out: []*line.Load{x, y}, In: []*line.Load{first, second}}, ok
}
