package carry

import "blankwright/scheduler/shop"

// standing settles the times of all that is done, or has been begun, and takes
// what it holds.
func (f *floor) standing() {
	for _, t := range f.tasks {
		switch {
		case t == nil:
		case t.Done != nil:
			f.settle(t, t.was(), t.Done.Minute)
		case t.Begun != nil:
			least := t.hours.after(f.now, 1)
			f.settle(t, t.Begun.Minute, max(t.hours.after(t.Begun.Minute, t.needs()), least))
		}
	}
	for _, l := range f.loads {
		switch {
		case l.Out != nil:
			f.leave(l)
		case l.In != nil:
			f.cooking(l)
		case l.hollow():
			l.in, l.cure = l.Planned.In.Minute, l.Planned.CureStart.Minute
			l.cureEnd, l.out = l.Planned.CureEnd.Minute, l.Planned.Out.Minute
		}
	}
}

// was returns when a task that is done began. It took a minute at least.
func (t *task) was() int64 {
	begun := t.Planned.Start.Minute
	if t.Begun != nil {
		begun = t.Begun.Minute
	}
	return min(begun, t.Done.Minute-1)
}

// settle states a task's times, and takes what it holds from then on.
func (f *floor) settle(t *task, start, end int64) {
	t.start, t.end, t.known = start, end, true
	f.taken[t.place()] = max(f.taken[t.place()], end)
	if c := f.crews[t.station.Crew]; c != nil {
		c.add(t.hours.within(start, end), -int32(t.station.People))
	}
	switch t.Planned.Stage {
	case shop.Tack:
		f.mandrels[t.section.Mandrel].add(start, -t.Pieces)
	case shop.Wrap:
		f.hang(t.load, start)
	case shop.Pull:
		f.mandrels[t.section.Mandrel].add(f.cleaning.after(end, f.turnaround(t)), t.Pieces)
		f.unhang(t.load)
	}
}

func (f *floor) turnaround(t *task) int64 {
	for i := range f.s.MandrelTypes {
		if f.s.MandrelTypes[i].ID == t.section.Mandrel {
			return int64(f.s.MandrelTypes[i].TurnaroundMinutes)
		}
	}
	return 0
}

// hang takes a load's racks, once: with its first wrap task.
func (f *floor) hang(l *load, at int64) {
	if l.racked {
		return
	}
	l.racked, l.hung = true, at
	for rack, n := range l.racks {
		f.racks[rack].add(at, -n)
	}
}

// unhang gives a load's racks back when the last of its pull tasks is known.
func (f *floor) unhang(l *load) {
	last := l.in
	for _, t := range l.tasks {
		if t.Planned.Stage != shop.Pull || t.empty() {
			continue
		}
		if !t.known {
			return
		}
		last = max(last, t.end)
	}
	for rack, n := range l.racks {
		f.racks[rack].add(last, n)
	}
}

// at returns the tasks of a load at a stage that have anything to do.
func (l *load) at(stage shop.Stage) []*task {
	var out []*task
	for _, t := range l.tasks {
		if t.Planned.Stage == stage && !t.empty() {
			out = append(out, t)
		}
	}
	return out
}

// hollow reports whether all pieces of a load were scrapped before any got a
// mandrel: it will never go into an oven.
func (l *load) hollow() bool {
	for _, t := range l.tasks {
		if !t.empty() && t.Planned.Stage >= shop.Tack {
			return false
		}
	}
	return len(l.tasks) > 0
}
