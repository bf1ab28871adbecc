package carry

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"blankwright/scheduler/shop"
)

// The kinds of Trouble.
const (
	KindOpen     = "open"     // flags lie cut for longer than they may (R10)
	KindGreen    = "green"    // wrapped pieces lie for longer than they may (R10)
	KindExpired  = "expired"  // the material that was cut is past its time before the cure
	KindMaterial = "material" // there is too little to cut from (R12)
	KindMandrels = "mandrels" // there are too few mandrels (R9)
	KindRacks    = "racks"    // there are too few racks (R5)
	KindOven     = "oven"     // the oven is down when a load is to go in, or while it is in (R4)
	KindHorizon  = "horizon"  // it cannot end within the horizon (R14)
)

// None is the task of a Trouble that a whole load has.
const None = -1

// A Trouble is something that can no longer happen as it was meant.
type Trouble struct {
	Kind string       // one of the kinds
	Load string       // the load's id
	Task int          // the task, as an index into the work, or None
	What string       // what is wrong, with its numbers
	Mend string       // what would mend it
	At   shop.Instant // when it shows
}

// trouble notes a trouble.
func (f *floor) trouble(kind string, l *load, task int, at int64, what, mend string) {
	f.troubles = append(f.troubles, Trouble{Kind: kind, Load: l.Planned.ID, Task: task, What: what, Mend: mend, At: f.instant(at)})
}

// findTroubles looks at the finished picture for what breaks a rule.
func (f *floor) findTroubles() {
	for _, l := range f.loads {
		if l.over || l.Out != nil {
			continue
		}
		if l.In == nil {
			f.ovenDown(l)
			f.openTooLong(l)
			f.greenTooLong(l)
		} else {
			f.interrupted(l)
		}
	}
	f.findShortages()
	for _, l := range f.loads {
		f.pastHorizon(l)
	}
	slices.SortStableFunc(f.troubles, func(a, b Trouble) int { return cmp.Compare(a.At.Minute, b.At.Minute) })
}

// openTooLong tells, once for each prepreg of a load, of cut flags that lie too
// long, or that outlive their material.
func (f *floor) openTooLong(l *load) {
	open, lasts := map[string]bool{}, map[string]bool{}
	for _, t := range f.inTime(l.at(shop.Cut)) {
		id := t.Planned.Prepreg
		most := int64(f.prepreg(id).MaxOpenMinutes)
		if lie := l.cure - t.start; lie > most && !open[id] {
			open[id] = true
			f.trouble(KindOpen, l, t.index, t.start+most, fmt.Sprintf(
				"flags of prepreg %s cut %s may lie %d minutes, until %s; load %s cures from %s, after %d minutes",
				id, f.clock(t.start), most, f.clock(t.start+most), l.Planned.ID, f.clock(l.cure), lie), f.mendOpen(t, most))
		}
		if t.Lasts != nil && t.Lasts.Minute < l.cure && !lasts[id] {
			lasts[id] = true
			f.trouble(KindExpired, l, t.index, t.Lasts.Minute, fmt.Sprintf(
				"the prepreg %s that was cut %s is good until %s; load %s cures from %s",
				id, f.clock(t.start), f.clock(t.Lasts.Minute), l.Planned.ID, f.clock(l.cure)),
				"hold the flags; retest and extend the roll, or scrap them and cut anew")
		}
	}
}

func (f *floor) mendOpen(t *task, most int64) string {
	if t.Begun == nil && t.Done == nil {
		return "begin to cut no earlier than " + f.clock(t.load.cure-most)
	}
	return fmt.Sprintf("cure it by %s, or scrap the flags and cut anew", f.clock(t.start+most))
}

// greenTooLong tells of the wrapped pieces of a load that lie too long.
func (f *floor) greenTooLong(l *load) {
	most := int64(f.s.Policy.MaxGreenMinutes)
	for _, t := range f.inTime(l.at(shop.Wrap)) {
		if lie := l.cure - t.end; lie > most {
			f.trouble(KindGreen, l, t.index, t.end+most, fmt.Sprintf(
				"pieces of section %s wrapped by %s may lie %d minutes, until %s; load %s cures from %s, after %d minutes",
				t.section.ID, f.clock(t.end), most, f.clock(t.end+most), l.Planned.ID, f.clock(l.cure), lie),
				fmt.Sprintf("cure it by %s, or scrap the pieces", f.clock(t.end+most)))
			return
		}
	}
}

// inTime returns the tasks by their start.
func (f *floor) inTime(tasks []*task) []*task {
	slices.SortStableFunc(tasks, func(a, b *task) int { return cmp.Compare(a.start, b.start) })
	return tasks
}

// ovenDown tells of downtime that falls into the time for which a load was
// planned, so that it has to wait.
func (f *floor) ovenDown(l *load) {
	for _, down := range f.diary.down(shop.OvenResource + l.oven.ID) {
		if down.From < l.Planned.Out.Minute && l.Planned.In.Minute < down.To && f.now < down.To && l.in >= down.To {
			f.trouble(KindOven, l, None, max(down.From, l.Planned.In.Minute), fmt.Sprintf(
				"oven %s is down from %s to %s; load %s goes in %s instead of %s",
				l.oven.ID, f.clock(down.From), f.clock(down.To), l.Planned.ID, f.clock(l.in), f.clock(l.Planned.In.Minute)),
				"have the oven back sooner, or take the load back as long as nothing of it has begun, and plan anew")
			return
		}
	}
}

// interrupted tells of downtime that falls into the cure of a load that is in.
func (f *floor) interrupted(l *load) {
	for _, down := range f.diary.down(shop.OvenResource + l.oven.ID) {
		if down.From < l.cureEnd && l.in < down.To && down.To > f.now {
			f.trouble(KindOven, l, None, max(down.From, l.in), fmt.Sprintf(
				"oven %s is down from %s to %s, while load %s cures in it until %s",
				l.oven.ID, f.clock(down.From), f.clock(down.To), l.Planned.ID, f.clock(l.cureEnd)),
				"have the process engineer judge the cure: cure it again, or scrap the load")
			return
		}
	}
}

// lacksTools tells, once for a load, what a task lacks that never comes.
func (f *floor) lacksTools(t *task, at int64) {
	kind, what, mend := KindRacks, "", ""
	if t.Planned.Stage == shop.Tack {
		kind = KindMandrels
		there := f.mandrels[t.section.Mandrel].last()
		what = fmt.Sprintf("%d mandrels %s are needed to tack section %s, and %d come free",
			t.Pieces, t.section.Mandrel, t.section.ID, max(0, there))
		mend = fmt.Sprintf("bring %d back to the crib, or have fewer pieces tacked", t.Pieces-max(0, there))
	} else {
		what = fmt.Sprintf("the racks of load %s never come free", t.load.Planned.ID)
		mend = "mend racks, or unload those that others hold"
	}
	for _, told := range f.troubles {
		if told.Kind == kind && told.Load == t.load.Planned.ID {
			return
		}
	}
	f.trouble(kind, t.load, t.index, at, what, mend)
}

// pastHorizon tells of a load that cannot be finished within the horizon.
func (f *floor) pastHorizon(l *load) {
	horizon := f.s.Horizon()
	end, task := l.out, None
	for _, t := range l.tasks {
		if !t.empty() && t.end > end {
			end, task = t.end, t.index
		}
	}
	if end > horizon {
		f.trouble(KindHorizon, l, task, horizon, fmt.Sprintf(
			"load %s ends %s, and the plan %s", l.Planned.ID, f.clock(end), f.clock(horizon)),
			"open hours, an oven or people for it, or plan further ahead")
	}
}

func (f *floor) prepreg(id string) *shop.Prepreg {
	for i := range f.s.Prepregs {
		if f.s.Prepregs[i].ID == id {
			return &f.s.Prepregs[i]
		}
	}
	return &shop.Prepreg{ID: id}
}

// clock returns a minute as the shop's own clocks show it.
func (f *floor) clock(minute int64) string {
	return time.Unix(minute*60, 0).In(f.diary.zone).Format("Mon 2 Jan 15:04")
}
