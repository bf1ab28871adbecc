package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Place finds the earliest oven start from the load's target on at which all of
// its tasks fit, and puts them there. It reports false, and leaves no trace,
// where there is none before the horizon.
func (t *Timetable) Place(l *Load) bool { return t.PlaceWhere(l, nil) }

// PlaceWhere is Place; it tells watch, where that is not nil, what stood in the
// way of each earlier start.
func (t *Timetable) PlaceWhere(l *Load, watch *Watch) bool {
	mark := t.Mark()
	t.hangFirst(l)
	look := t.lookAt(l)
	w := walk{t: t, l: l, ready: l.Target, step: 1}
	for range l.Tries {
		in, out, ok := w.slot()
		if !ok || in > l.Latest {
			watch.note(Obstacle{Kind: OvenBusy, Index: l.Oven, At: w.ready})
			return false
		}
		if in > w.ready {
			watch.note(Obstacle{Kind: OvenBusy, Index: l.Oven, At: in})
		}
		stop, ok := t.placeAt(l, look, in, out)
		if ok {
			return true
		}
		t.Undo(mark)
		watch.note(stop)
		if stop.fatal || !w.on(in, stop.delay) {
			return false
		}
	}
	watch.stopAt(w.ready)
	return false
}

// placeAt tries one oven start: first with each task as late as it can be, to
// see whether the start will do; then without haste, looking for places that
// save set-ups.
func (t *Timetable) placeAt(l *Load, o *outlook, in, out Tick) (Obstacle, bool) {
	stop, yes := t.soon(l, o, in, out)
	if yes && stop.Kind == RacksOut && t.rehang(l, o, out) {
		stop, yes = t.soon(l, o, in, out)
	}
	if yes {
		return stop, false
	}
	oven := &t.in.Ovens[l.Oven]
	l.In, l.CureStart = in, in+oven.Load
	l.CureEnd, l.Out = l.CureStart+l.Cure, out
	// The oven first: its loading and unloading need people whom the load's own
	// tasks would take. Pulling next, as whatever is upstream must know when
	// mandrels and racks are free again.
	t.hangIn(l)
	a := t.newAttempt(l)
	if !a.downstream(shop.Pull) {
		return Obstacle{Kind: Horizon, fatal: true, At: l.Out}, false
	}
	if l.Patience > l.Haste {
		pulled := a.here()
		stop, ok := a.complete(l.Patience)
		if ok || !a.waited {
			return stop, ok // without patience all would be the same
		}
		a.backTo(pulled)
	}
	return a.complete(l.Haste)
}

// An attempt is one load being placed at one oven start.
type attempt struct {
	t        *Timetable
	l        *Load
	patience Tick
	waited   bool // some task stands earlier than haste allows, to save a set-up
	batches  []batch
	order    []int // of the batches, downstream
	next     int   // of the load's tasks
	runs     runOrder
}

// A batch is one transfer batch of one run on its way through the stages.
type batch struct {
	section, pieces int
	due             Tick // when the stage before must have ended
	ready           Tick // when the stage behind can begin
	pulled          Tick // when it is pulled
	back            Tick // when its mandrels are free again
	done            Tick // when the stage before has ended
}

// newAttempt begins the next attempt. There is one at a time.
func (t *Timetable) newAttempt(l *Load) *attempt {
	a := &t.attempt
	a.t, a.l, a.next, a.batches = t, l, 0, a.batches[:0]
	ready := l.Out + t.in.Profiles[l.Profile].Rest
	tasks := 0
	for _, run := range a.runs.upstream(t, l) {
		for _, pieces := range t.in.Split(run.Section, run.Pieces) {
			a.batches = append(a.batches, batch{section: run.Section, pieces: pieces, ready: ready})
			tasks += shop.StageCount - 1 + len(t.in.Sections[run.Section].Cuts)
		}
	}
	a.orderDownstream()
	if cap(l.Tasks) < tasks {
		l.Tasks = t.tasksFor(tasks)
	}
	l.Tasks = l.Tasks[:tasks]
	l.rackTo, l.starts = l.Out, nil
	return a
}

// A point is how far an attempt is.
type point struct{ mark, next int }

func (a *attempt) here() point { return point{a.t.Mark(), a.next} }

func (a *attempt) backTo(p point) {
	a.t.Undo(p.mark)
	a.next = p.next
}

// complete places all that is left. What comes after pulling waits for what comes
// before, where most attempts fail.
func (a *attempt) complete(patience Tick) (Obstacle, bool) {
	pulled := a.here()
	if stop, ok := a.upstream(patience); !ok {
		return stop, false
	}
	if a.l.Eager && !a.hastened(pulled) {
		a.upstream(patience) // it has just found room, and does so again
	}
	if !a.downstream(shop.Strip) || !a.downstream(shop.Trim) {
		return Obstacle{Kind: Horizon, fatal: true, At: a.l.Out}, false
	}
	return Obstacle{}, true
}

// put fills the load's next task and adds it to the timetable.
func (a *attempt) put(stage shop.Stage, b *batch, prepreg int, work Tick, g gap) {
	task := &a.l.Tasks[a.next]
	*task = Task{
		Load: a.l, Section: b.section, Stage: stage, Prepreg: prepreg, Position: g.position.number, Pieces: b.pieces,
		Setup: g.setup, Start: g.start, End: g.end,
		key: a.t.in.Key(stage, b.section, prepreg), work: work, origin: g.origin, serial: a.next,
	}
	a.next++
	a.t.laid++
	if stage == shop.Tack {
		task.back = b.back
	}
	if g.behind != unchanged {
		a.t.refit(g.position, g.position.task(g.index), g.behind == burdened)
	}
	a.t.addTask(task)
}

// downstream pulls, strips or trims, each batch as early as it can: first those
// whose mandrels are scarcest.
func (a *attempt) downstream(stage shop.Stage) bool {
	for _, i := range a.order {
		b := &a.batches[i]
		g, work, ok := a.earliest(stage, b, b.ready)
		if !ok {
			return false
		}
		a.put(stage, b, instance.None, work, g)
		b.ready = g.end
		if stage == shop.Pull {
			b.pulled = g.end
			b.back = a.t.cleaned(g.end, a.t.in.Sections[b.section].Mandrel)
			a.l.rackTo = max(a.l.rackTo, g.end)
		}
	}
	return true
}

func (a *attempt) earliest(stage shop.Stage, b *batch, ready Tick) (best gap, work Tick, ok bool) {
	w := a.want(stage, b, instance.None, 0)
	for _, p := range a.t.positions[stage] {
		if g, fits := p.earliest(&w, ready, a.t.in.Horizon); fits && (!ok || g.end < best.end) {
			best, ok = g, true
		}
	}
	return best, w.work, ok
}

func (a *attempt) want(stage shop.Stage, b *batch, prepreg, cut int) want {
	crew, people := a.t.crewOf(stage)
	return want{
		key: a.t.in.Key(stage, b.section, prepreg), work: a.t.in.Work(stage, b.section, cut, b.pieces),
		setup: a.t.in.Stations[stage].Setup, crew: crew, people: people,
	}
}
