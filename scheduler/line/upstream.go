package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// upstream wraps, rolls, tacks and cuts, the last batch first, so that each
// batch is ready when the stage after it starts and no sooner than it must; or up
// to patience sooner, where that saves a set-up.
func (a *attempt) upstream(patience Tick) (Obstacle, bool) {
	a.patience, a.waited, a.l.rackFrom = patience, false, a.l.In
	for i := range a.batches {
		a.batches[i].due, a.batches[i].ready = a.l.In, a.batches[i].pulled
	}
	for _, stage := range []shop.Stage{shop.Wrap, shop.Roll, shop.Tack} {
		for i := len(a.batches) - 1; i >= 0; i-- {
			if stop, ok := a.task(stage, i, instance.None, 0); !ok {
				return stop, false
			}
		}
	}
	if stop, ok := a.cut(); !ok {
		return stop, false
	}
	return a.hang()
}

// cut cuts in the way that suits the patience, and in the other where that
// finds no room.
func (a *attempt) cut() (Obstacle, bool) {
	byPrepreg := a.patience > 0
	tacked := a.here()
	stop, ok := a.cutIn(byPrepreg)
	if ok || stop.fatal {
		return stop, ok
	}
	a.backTo(tacked)
	return a.cutIn(!byPrepreg)
}

func (a *attempt) cutIn(byPrepreg bool) (Obstacle, bool) {
	if byPrepreg {
		return a.cutByPrepreg()
	}
	return a.cutByBatch()
}

// cutByBatch cuts all that a batch needs before it goes on to the next.
func (a *attempt) cutByBatch() (Obstacle, bool) {
	for i := len(a.batches) - 1; i >= 0; i-- {
		for cut, c := range a.t.in.Sections[a.batches[i].section].Cuts {
			if stop, ok := a.task(shop.Cut, i, c.Prepreg, cut); !ok {
				return stop, false
			}
		}
	}
	return Obstacle{}, true
}

// cutByPrepreg cuts one prepreg for all batches before it goes on to the next,
// which takes fewer set-ups and more time in advance.
func (a *attempt) cutByPrepreg() (Obstacle, bool) {
	for k := range a.t.in.Prepregs {
		prepreg := a.l.Cuts.at(k, len(a.t.in.Prepregs))
		for i := len(a.batches) - 1; i >= 0; i-- {
			for cut, c := range a.t.in.Sections[a.batches[i].section].Cuts {
				if c.Prepreg != prepreg {
					continue
				}
				if stop, ok := a.task(shop.Cut, i, prepreg, cut); !ok {
					return stop, false
				}
			}
		}
	}
	return Obstacle{}, true
}

// task places the i-th batch at a stage; at cut, one of its prepregs.
func (a *attempt) task(stage shop.Stage, i, prepreg, cut int) (Obstacle, bool) {
	b := &a.batches[i]
	w := a.want(stage, b, prepreg, cut)
	floor := a.floor(stage, b, prepreg)
	if floor.At >= instance.Never {
		floor.fatal = true
		return floor, false
	}
	g, late, ok := a.choose(stage, &w, b.due, floor.At)
	if !ok {
		stop := a.missed(stage, &w, b.due, floor, late)
		stop.delay = max(stop.delay, a.shortfall(stage, i, stop.At))
		return stop, false
	}
	a.put(stage, b, prepreg, w.work, g)
	switch stage {
	case shop.Wrap:
		a.l.rackFrom = min(a.l.rackFrom, g.origin)
	case shop.Tack:
		mandrels := a.t.mandrels[a.t.in.Sections[b.section].Mandrel]
		a.t.use(mandrels, use{g.origin, b.back, b.pieces})
	}
	if stage != shop.Cut {
		b.due = g.origin
	}
	return Obstacle{}, true
}

// floor returns the earliest start that a task may have, and why.
func (a *attempt) floor(stage shop.Stage, b *batch, prepreg int) Obstacle {
	section := &a.t.in.Sections[b.section]
	floor := Obstacle{Kind: Now, Index: int(stage)}
	raise := func(kind Kind, index int, at Tick) {
		if at > floor.At {
			floor = Obstacle{Kind: kind, Index: index, At: at, Need: b.pieces}
		}
	}
	switch stage {
	case shop.Wrap:
		// The task must end within the green time; its start is then late enough.
		raise(GreenTime, b.section, a.l.CureStart-a.t.in.MaxGreen-a.t.in.Work(stage, b.section, 0, b.pieces))
		a.rackFloor(raise)
	case shop.Cut:
		raise(OpenTime, prepreg, a.l.CureStart-a.t.in.Prepregs[prepreg].MaxOpen)
	case shop.Tack:
		raise(MandrelsOut, section.Mandrel, a.t.mandrels[section.Mandrel].freeFrom(b.pieces, b.back))
	}
	if stage != shop.Cut {
		raise(OpenTime, section.Cuts[0].Prepreg, a.l.CureStart-section.MaxOpen)
	}
	return floor
}

// rackFloor raises the floor to when the load's racks are free up to the end of
// its pulling.
func (a *attempt) rackFloor(raise func(Kind, int, Tick)) {
	for _, r := range a.t.look.racks {
		raise(RacksOut, r.index, a.t.racks[r.index].freeFrom(r.n, a.l.rackTo))
	}
}

// choose finds the latest gap that ends by due; where that costs a set-up, the
// latest one without that starts at most patience earlier. late is the latest
// start that there is, whatever the floor.
func (a *attempt) choose(stage shop.Stage, w *want, due, floor Tick) (best gap, late Tick, ok bool) {
	late = -1
	for _, p := range a.t.positions[stage] {
		for i := p.after(due); i >= 0; i-- {
			limit := p.latestEnd(i, due)
			if limit <= floor || ok && limit < best.start-a.patience {
				break
			}
			below := anySetups
			if ok && limit <= best.start {
				below = best.extra // as late as the best it cannot be
			}
			g, fits := p.latest(w, i, limit, below)
			if !fits {
				continue
			}
			late = max(late, g.start)
			if g.start >= floor && (!ok || a.better(&g, &best)) {
				best, ok = g, true
				// Where there is no room for a set-up that it may come to need, its own
				// start is kept, and no task that would make it need one comes before it.
				best.origin = max(best.origin, floor)
			}
			if ok && best.extra <= 0 || a.patience == 0 && fits {
				break
			}
		}
	}
	return best, late, ok
}

// anySetups is more set-ups than any gap adds.
const anySetups = 3

// better orders two gaps: fewer set-ups within the patience, else the later
// start.
func (a *attempt) better(g, than *gap) bool {
	if g.extra == than.extra {
		return g.start > than.start
	}
	saves, other := g, than
	if g.extra > than.extra {
		saves, other = than, g
	}
	early := other.start - saves.start
	a.waited = a.waited || a.l.Haste < early && early <= a.patience
	return (early <= a.patience) == (saves == g)
}

// missed tells what kept a task from its place, and by how many working minutes
// the load would have to be later for it.
func (a *attempt) missed(stage shop.Stage, w *want, due Tick, floor Obstacle, late Tick) Obstacle {
	calendar := a.t.in.Stations[stage].Calendar
	if floor.Kind != Now && floor.At > due-w.work {
		floor.delay = calendar.Worked(floor.At) - calendar.Worked(due) + w.work
		return floor
	}
	if late < 0 || floor.Kind == Now {
		return Obstacle{Kind: StationBusy, Index: int(stage), At: floor.At}
	}
	floor.delay = max(1, calendar.Worked(floor.At)-calendar.Worked(late))
	return floor
}

// shortfall returns how many working minutes the batches up to the i-th need
// at a stage beyond those that there are from floor on before they are due,
// shared among the positions; 0 where that is not what is missing.
func (a *attempt) shortfall(stage shop.Stage, i int, floor Tick) Tick {
	need := Tick(0)
	for j := range a.batches[:i+1] {
		cuts := 1
		if stage == shop.Cut {
			cuts = len(a.t.in.Sections[a.batches[j].section].Cuts)
		}
		for cut := range cuts {
			need += a.t.in.Work(stage, a.batches[j].section, cut, a.batches[j].pieces)
		}
	}
	positions := len(a.t.positions[stage])
	there := a.t.idle(stage, max(0, floor), a.batches[i].due)
	return max(0, (need-there+positions-1)/positions)
}

// hang takes the racks and checks the material.
func (a *attempt) hang() (Obstacle, bool) {
	for _, r := range a.t.look.racks {
		a.t.use(a.t.racks[r.index], use{a.l.rackFrom, a.l.rackTo, r.n})
	}
	for p, ledger := range a.t.ledgers {
		if ledger != nil && ledger.lacking() {
			return a.material(p, ledger), false
		}
	}
	return Obstacle{}, true
}

// material tells when more of a prepreg comes after the load's first cut task
// of it.
func (a *attempt) material(prepreg int, ledger *ledger) Obstacle {
	first := instance.Never
	for i := range a.l.Tasks[:a.next] {
		if task := &a.l.Tasks[i]; task.Stage == shop.Cut && task.Prepreg == prepreg {
			first = min(first, task.Start)
		}
	}
	stop := Obstacle{Kind: NoMaterial, Index: prepreg, At: ledger.more(first)}
	if stop.At >= instance.Never {
		stop.fatal = true
		return stop
	}
	calendar := a.t.in.Stations[shop.Cut].Calendar
	stop.delay = max(1, calendar.Worked(stop.At)-calendar.Worked(first))
	return stop
}
