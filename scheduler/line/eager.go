package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// hastened places what comes before the oven anew, from a point on: as early as it
// can be, the first batch first. Where people are always busy, time left free
// behind is lost, while time left free ahead serves the next load. It reports
// false, and leaves no trace, where not all gets ready in time that way.
func (a *attempt) hastened(from point) bool {
	a.backTo(from)
	a.l.rackFrom = a.l.In
	for i := range a.batches {
		a.batches[i].done, a.batches[i].ready = 0, a.batches[i].pulled
	}
	if a.forward() {
		if _, ok := a.hang(); ok {
			return true
		}
	}
	a.backTo(from)
	return false
}

// forward cuts one prepreg after the other, then takes batch after batch through
// the other stages.
func (a *attempt) forward() bool {
	for k := range a.t.in.Prepregs {
		prepreg := a.l.Cuts.at(k, len(a.t.in.Prepregs))
		for i := range a.batches {
			for cut, c := range a.t.in.Sections[a.batches[i].section].Cuts {
				if c.Prepreg == prepreg && !a.soonest(shop.Cut, i, prepreg, cut) {
					return false
				}
			}
		}
	}
	for i := range a.batches {
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
			if !a.soonest(stage, i, instance.None, 0) {
				return false
			}
		}
	}
	return true
}

// soonest places the i-th batch at a stage as early as it can be.
func (a *attempt) soonest(stage shop.Stage, i, prepreg, cut int) bool {
	b := &a.batches[i]
	w := a.want(stage, b, prepreg, cut)
	ready := max(0, a.floor(stage, b, prepreg).At)
	if stage != shop.Cut {
		ready = max(ready, b.done)
	}
	var best gap
	found := false
	for _, p := range a.t.positions[stage] {
		if g, ok := p.soonest(&w, ready, a.l.In); ok && (!found || a.sooner(&g, &best)) {
			best, found = g, true
		}
	}
	if !found {
		return false
	}
	a.put(stage, b, prepreg, w.work, best)
	switch stage {
	case shop.Wrap:
		a.l.rackFrom = min(a.l.rackFrom, best.origin)
	case shop.Tack:
		a.t.use(a.t.mandrels[a.t.in.Sections[b.section].Mandrel], use{best.origin, b.back, b.pieces})
	}
	b.done = max(b.done, best.end)
	return true
}

// sooner orders two gaps: fewer set-ups within the patience, else the earlier
// end.
func (a *attempt) sooner(g, than *gap) bool {
	patience := max(a.patience, usualHaste)
	if g.extra != than.extra {
		if g.extra < than.extra {
			return g.end <= than.end+patience
		}
		return g.end < than.end-patience
	}
	return g.end < than.end
}

// soonest finds the earliest start from ready on that ends by limit.
func (p *position) soonest(w *want, ready, limit Tick) (g gap, ok bool) {
	for i := p.endsAfter(ready); ; i++ {
		if p.freeFrom(i) >= limit {
			return g, false
		}
		if g, ok = p.firstIn(w, i, ready, limit); ok {
			return g, true
		}
		if i >= p.slots.len() {
			return g, false
		}
	}
}

// firstIn finds the earliest start in the gap before the i-th task.
func (p *position) firstIn(w *want, i int, ready, limit Tick) (g gap, ok bool) {
	if i < p.slots.len() && p.tight(w, i) {
		return g, false
	}
	g = p.gap(w, i)
	if i < p.slots.len() {
		room, ok := p.roomBefore(w, &g)
		if !ok {
			return g, false
		}
		limit = min(limit, room)
	}
	minutes := max(1, w.work)
	if g.setup {
		minutes = max(1, w.work+w.setup)
	}
	for at := max(ready, p.freeFrom(i)); ; {
		g.start = p.calendar.Next(at)
		g.end = p.calendar.Ahead(g.start, minutes)
		if g.end > limit {
			return g, false
		}
		g.origin = g.start
		if w.crew == nil {
			return g, true
		}
		lack, short := p.lacking(w.crew, g.start, g.end, w.people)
		if !short {
			return g, true
		}
		at = w.crew.back(lack, w.people)
	}
}
