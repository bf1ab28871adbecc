package carry

import (
	"math"

	"blankwright/scheduler/shop"
)

// work places all that has not been begun. Of what is first in its queue it
// takes again and again what can begin soonest, so that who comes first has the
// people, mandrels and racks first; at the same minute, what was planned first.
func (f *floor) work() {
	for {
		var best *queue
		when, waiting := int64(math.MaxInt64), false
		for i := range f.queues {
			q := &f.queues[i]
			if q.empty() {
				continue
			}
			waiting = true
			start, ok := f.soonest(q)
			if ok && (start < when || start == when && q.planned() < best.planned()) {
				best, when = q, start
			}
		}
		switch {
		case !waiting:
			return
		case best == nil:
			f.force()
		default:
			f.place(best, when)
		}
	}
}

func (q *queue) empty() bool { return len(q.tasks) == 0 && len(q.loads) == 0 }

// soonest returns when the first of a queue can begin; false where that hangs on
// what is not placed yet.
func (f *floor) soonest(q *queue) (int64, bool) {
	if len(q.loads) > 0 {
		return f.loadStart(q.loads[0])
	}
	t := q.tasks[0]
	from, ok := f.flow(t)
	if !ok {
		return 0, false
	}
	if from, ok = f.tools(t, from); !ok {
		return 0, false
	}
	// Who waits for pieces or tools may have them sooner than was known before;
	// people only get fewer.
	if from != t.from {
		t.from, t.sought = from, from
	}
	t.sought = f.seek(t, t.sought)
	return t.sought, true
}

// loadStart returns when a load can go into its oven; false until all that is
// to hang in it has been placed.
func (f *floor) loadStart(l *load) (int64, bool) {
	from := f.free(l)
	for _, t := range l.at(shop.Wrap) {
		if !t.known {
			return 0, false
		}
		from = max(from, t.end)
	}
	if !l.racked { // with nothing to wrap, it takes its racks as it goes in
		at, ok := f.racksFrom(l, from)
		if !ok {
			return 0, false
		}
		from = at
	}
	l.sought, _ = f.slot(l, max(from, l.sought))
	return l.sought, true
}

// racksFrom returns the first minute, from one on, at which a load's racks are
// there; false where that hangs on what is not placed yet.
func (f *floor) racksFrom(l *load, from int64) (int64, bool) {
	for rack, n := range l.racks {
		at, ok := f.racks[rack].from(from, n)
		if !ok {
			return 0, false
		}
		from = max(from, at)
	}
	return from, true
}

// place lets the first of a queue begin.
func (f *floor) place(q *queue, start int64) {
	if len(q.loads) == 0 {
		t := q.tasks[0]
		q.tasks = q.tasks[1:]
		f.settle(t, start, t.hours.after(start, t.needs()))
		return
	}
	l := q.loads[0]
	q.loads = q.loads[1:]
	l.in, l.out = f.slot(l, start)
	l.cure = l.in + l.loading()
	l.cureEnd = l.cure + l.curing()
	f.occupy(l)
}

// flow returns the first minute at which a task has what it works on, its
// position, and its own planned start; false where that is not known yet.
func (f *floor) flow(t *task) (int64, bool) {
	from := max(f.now, t.Planned.Start.Minute, f.taken[t.place()])
	if t.Planned.Stage == shop.Pull {
		from = max(from, t.load.out+t.load.rest)
		return from, t.load.known
	}
	need := t.Live
	for _, i := range t.run.group(&t.Planned, f.w) {
		if other := f.tasks[i]; other.known {
			need += other.Live
		}
	}
	for _, group := range t.run.before(t.Planned.Stage) {
		at, ok := f.passed(group, need)
		if !ok {
			return 0, false
		}
		from = max(from, at)
	}
	return from, true
}

// passed returns when so many pieces have passed a stage; where fewer ever do,
// when all have. It is false where that hangs on tasks that are not placed yet.
func (f *floor) passed(group []int, need int) (int64, bool) {
	var ends []change
	whole := true
	for _, i := range group {
		switch t := f.tasks[i]; {
		case t.known:
			ends = append(ends, change{t.end, t.leaves(t.Live)})
		case !t.empty():
			whole = false
		}
	}
	at := int64(ever)
	for _, c := range inOrder(ends) {
		if need <= 0 {
			return at, true
		}
		at = c.at
		need -= c.more
	}
	return at, whole || need <= 0
}

// tools returns the first minute, from one on, at which the mandrels of a tack
// task are there, or the racks for a load's first wrap task; false where that
// hangs on what is not placed yet.
func (f *floor) tools(t *task, from int64) (int64, bool) {
	switch {
	case t.Planned.Stage == shop.Tack:
		return f.mandrels[t.section.Mandrel].from(from, t.Pieces)
	case t.Planned.Stage == shop.Wrap && t.load.racked:
		from = max(from, t.load.hung)
	case t.Planned.Stage == shop.Wrap:
		return f.racksFrom(t.load, from)
	}
	return from, true
}

// seek returns the first minute, from one on, at which a task can begin with
// people for all the time that it is worked.
func (f *floor) seek(t *task, from int64) int64 {
	c := f.crews[t.station.Crew]
	for {
		from = t.hours.next(from)
		if c == nil {
			return from
		}
		minute, lacking := c.lacks(t.hours.within(from, t.hours.after(from, t.needs())), t.station.People)
		if !lacking {
			return from
		}
		from = minute + 1
	}
}

// force lets something begin where nothing can: a task that lacks no more than
// mandrels or racks, which will never be there, or what is planned first.
func (f *floor) force() {
	best, when := -1, int64(math.MaxInt64)
	for i := range f.queues {
		q := &f.queues[i]
		if len(q.tasks) == 0 {
			continue
		}
		if from, ok := f.flow(q.tasks[0]); ok && from < when {
			best, when = i, from
		}
	}
	if best < 0 {
		f.forceFirst()
		return
	}
	q := &f.queues[best]
	start := f.seek(q.tasks[0], when)
	f.lacksTools(q.tasks[0], start)
	f.place(q, start)
}

// forceFirst lets begin what is planned first, though what it works on never
// comes: only work whose plan was no valid one gets here.
func (f *floor) forceFirst() {
	best, when := -1, int64(math.MaxInt64)
	for i := range f.queues {
		if q := &f.queues[i]; !q.empty() && q.planned() < when {
			best, when = i, q.planned()
		}
	}
	q := &f.queues[best]
	if len(q.loads) > 0 {
		f.place(q, f.free(q.loads[0]))
		return
	}
	t := q.tasks[0]
	f.place(q, f.seek(t, max(f.now, when, f.taken[t.place()])))
}

// planned returns when the first of a queue was to begin.
func (q *queue) planned() int64 {
	if len(q.loads) > 0 {
		return q.loads[0].Planned.In.Minute
	}
	return q.tasks[0].Planned.Start.Minute
}
