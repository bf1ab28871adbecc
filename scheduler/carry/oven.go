package carry

import "blankwright/scheduler/shop"

// loading and curing return how long a load is put in, and how long it cures,
// as it was planned.
func (l *load) loading() int64 { return l.Planned.CureStart.Minute - l.Planned.In.Minute }
func (l *load) curing() int64  { return l.Planned.CureEnd.Minute - l.Planned.CureStart.Minute }

// leave settles the times of a load that is out of its oven again.
func (f *floor) leave(l *load) {
	l.out = l.Out.Minute
	l.in = min(l.wentIn(), l.out)
	l.cure = min(l.in+l.loading(), l.out)
	l.cureEnd = min(l.cure+l.curing(), l.out)
	f.occupy(l)
}

func (l *load) wentIn() int64 {
	if l.In != nil {
		return l.In.Minute
	}
	return l.Planned.In.Minute
}

// cooking settles the times of a load that is in its oven.
func (f *floor) cooking(l *load) {
	l.in = l.In.Minute
	l.cure = l.in + l.loading()
	l.cureEnd = l.cure + l.curing()
	l.out = f.takenOut(l, max(l.Planned.Out.Minute, l.cureEnd+int64(l.oven.UnloadMinutes), f.now+1))
	f.occupy(l)
}

// takenOut returns the first minute from one on by which a load can be out: its
// unloading lies in one window, with the people for it.
func (f *floor) takenOut(l *load, from int64) int64 {
	unload := int64(l.oven.UnloadMinutes)
	for begin := from - unload; ; {
		begin = l.open.fits(begin, unload)
		minute, lacking := f.lacks(l, begin, begin+unload)
		if !lacking {
			return begin + unload
		}
		begin = minute + 1
	}
}

// lacks returns the last minute between two in which a load's oven has too few
// people.
func (f *floor) lacks(l *load, from, to int64) (int64, bool) {
	c := f.crews[l.oven.Crew]
	if c == nil {
		return 0, false
	}
	return c.lacks([]shop.Span{{From: from, To: to}}, l.oven.People)
}

// occupy takes what a load holds, now that its times are known.
func (f *floor) occupy(l *load) {
	l.known = true
	f.full[l.oven] = max(f.full[l.oven], l.out)
	if c := f.crews[l.oven.Crew]; c != nil {
		unloading := shop.Span{From: l.out - int64(l.oven.UnloadMinutes), To: l.out}
		c.add([]shop.Span{{From: l.in, To: l.cure}, unloading}, -int32(l.oven.People))
	}
	if len(l.at(shop.Wrap)) == 0 {
		f.hang(l, l.in)
	}
	if len(l.at(shop.Pull)) == 0 {
		for rack, n := range l.racks {
			f.racks[rack].add(l.out, n)
		}
	}
}

// slot returns the first minutes, from one on, at which a load can go into its
// oven and be out again (rules R4 and R11).
func (f *floor) slot(l *load, from int64) (in, out int64) {
	for in = from; ; {
		in = l.open.fits(in, l.loading())
		if minute, lacking := f.lacks(l, in, in+l.loading()); lacking {
			in = minute + 1
			continue
		}
		done := in + l.loading() + l.curing() + int64(l.oven.UnloadMinutes)
		out = f.takenOut(l, max(done, l.Planned.Out.Minute))
		if next := f.shut(l, in, out); next > in {
			in = next
			continue
		}
		return in, out
	}
}

// shut returns the minute from which to try again where a load's oven is closed
// between two: by downtime, or where it is attended by its calendar. Otherwise
// it returns the first of the two.
func (f *floor) shut(l *load, in, out int64) int64 {
	for _, down := range f.diary.down(shop.OvenResource + l.oven.ID) {
		if down.From < out && in < down.To {
			return down.To
		}
	}
	if window := l.open[l.open.at(in)]; !l.oven.Unattended && window.To < out {
		return window.To
	}
	return in
}

// free returns when a load's oven is free for it: from its busy_until on, and
// after all loads whose times are known.
func (f *floor) free(l *load) int64 {
	at := max(f.now, l.Planned.In.Minute, f.full[l.oven])
	if busy := l.oven.BusyUntil; busy != nil {
		at = max(at, busy.Minute)
	}
	return at
}
