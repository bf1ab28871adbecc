package carry

import (
	"slices"

	"blankwright/scheduler/shop"
)

// markOver marks the loads of which nothing is left to keep: out of the oven,
// trimmed, their mandrels clean. Such a load is kept all the same while a
// position's set-up came after that of a load that is kept: the key left there
// could not be told otherwise, because last_setup comes before all released
// tasks.
func (f *floor) markOver() {
	for _, l := range f.loads {
		l.over = f.done(l)
	}
	for again := true; again; {
		again = false
		first := f.firstKept()
		for _, l := range f.loads {
			if l.over && slices.ContainsFunc(l.tasks, func(t *task) bool { return t.follows(first) }) {
				l.over, again = false, true
			}
		}
	}
}

// done reports whether a load holds nothing any more and has no task left. A
// load that never had a piece to hang is done too.
func (f *floor) done(l *load) bool {
	for _, t := range l.tasks {
		if t.empty() {
			continue
		}
		if t.Done == nil || t.end > f.now || t.Planned.Stage == shop.Pull && f.cleaning.after(t.end, f.turnaround(t)) > f.now {
			return false
		}
	}
	return l.In == nil && l.hollow() || l.Out != nil && l.out <= f.now
}

// follows reports whether a task was set up after the first kept one on its
// position.
func (t *task) follows(first map[place]int64) bool {
	minute, used := first[t.place()]
	return used && t.key() != "" && !t.empty() && t.start >= minute
}

// firstKept returns by place when the first task of a kept load starts there.
func (f *floor) firstKept() map[place]int64 {
	first := map[place]int64{}
	for _, t := range f.tasks {
		if t == nil || t.load.over || t.empty() || t.key() == "" {
			continue
		}
		if minute, used := first[t.place()]; !used || t.start < minute {
			first[t.place()] = t.start
		}
	}
	return first
}

// stations returns the stations with the set-ups that loads left which are over.
func (f *floor) stations() shop.Stations {
	out := f.s.Stations
	last := map[place]*task{}
	for _, t := range f.tasks {
		if t == nil || !t.load.over || t.empty() || t.key() == "" || t.Planned.Position > t.station.Positions {
			continue
		}
		if before := last[t.place()]; before == nil || before.start < t.start {
			last[t.place()] = t
		}
	}
	for at, t := range last {
		st := out.At(at.stage)
		keys := make([]*string, max(len(st.LastSetup), at.position))
		copy(keys, st.LastSetup)
		key := t.key()
		keys[at.position-1] = &key
		st.LastSetup = keys
	}
	return out
}
