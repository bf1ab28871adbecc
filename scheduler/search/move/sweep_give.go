package move

import (
	"cmp"
	"iter"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// giveForward is the sweep that takes the pieces that concern out of each load
// that carries any, the load whose late sets cost most first: into a load of their
// own, or as many as fit into one that goes in before.
func giveForward(a *answer.Answer, concerns func(int) bool) iter.Seq[answer.Change] {
	return func(yield func(answer.Change) bool) {
		for _, from := range dearest(a, concerns) {
			for oven := range a.In.Ovens {
				if c, ok := apart(a, from, oven, concerns); ok && !yield(c) {
					return
				}
			}
			for _, to := range inOrder(a.Loads) {
				if c, ok := forward(a, from, to, concerns); ok && !yield(c) {
					return
				}
			}
		}
	}
}

// dearest returns the loads that carry pieces that concern, those first whose
// late sets cost most, then in the order of time.
func dearest(a *answer.Answer, concerns func(int) bool) []*line.Load {
	price := map[*line.Load]answer.Money{}
	for _, l := range a.Loads {
		for _, run := range l.Runs {
			if p := a.In.Sections[run.Section].Product; concerns(p) {
				price[l] = max(price[l], 1+a.LateOf(p))
			}
		}
	}
	list := slices.DeleteFunc(inOrder(a.Loads), func(l *line.Load) bool { return price[l] == 0 })
	slices.SortStableFunc(list, func(x, y *line.Load) int { return cmp.Compare(price[y], price[x]) })
	return list
}

// parted returns the runs of a load that concern, and the others.
func parted(a *answer.Answer, l *line.Load, concerns func(int) bool) (runs, rest []rack.Run) {
	for _, run := range l.Runs {
		if concerns(a.In.Sections[run.Section].Product) {
			runs = append(runs, run)
		} else {
			rest = append(rest, run)
		}
	}
	return runs, rest
}

// apart returns the change in which the pieces that concern, or half of them where
// the load carries no others, leave it for a load of their own that goes in
// before.
func apart(a *answer.Answer, from *line.Load, oven int, concerns func(int) bool) (c answer.Change, ok bool) {
	runs, rest := parted(a, from, concerns)
	if len(rest) == 0 {
		runs, rest = halved(runs)
	}
	if len(runs) == 0 || len(rest) == 0 {
		return c, false
	}
	own, ok := sooner(a, from, oven, runs)
	if !ok {
		return c, false
	}
	smaller, ok := changed(a, from, rest)
	return answer.Change{Out: []*line.Load{from}, In: []*line.Load{own, smaller}}, ok
}

// halved returns one half of runs, the larger, and the other.
func halved(runs []rack.Run) (half, rest []rack.Run) {
	for _, run := range runs {
		n := (run.Pieces + 1) / 2
		half = append(half, rack.Run{Section: run.Section, Pieces: n})
		if n < run.Pieces {
			rest = append(rest, rack.Run{Section: run.Section, Pieces: run.Pieces - n})
		}
	}
	return half, rest
}

// forwardBy is how much sooner the load that takes pieces goes in at most.
const forwardBy = 10 * 1440

// forward returns the change in which a load gives the pieces that concern, as
// many as fit, to one that goes in before.
func forward(a *answer.Answer, from, to *line.Load, concerns func(int) bool) (c answer.Change, ok bool) {
	if !from.Placed() || !to.Placed() || to.In >= from.In || from.In-to.In > forwardBy {
		return c, false
	}
	runs, rest := parted(a, from, concerns)
	b := &box{like: to, runs: to.Runs}
	moved := 0
	for _, run := range runs {
		n := b.take(a.In, run)
		moved += n
		if n < run.Pieces {
			rest = append(rest, rack.Run{Section: run.Section, Pieces: run.Pieces - n})
		}
	}
	if moved == 0 {
		return c, false
	}
	return filled(a, []*line.Load{to, from}, []*box{b, {like: from, runs: rest}})
}
