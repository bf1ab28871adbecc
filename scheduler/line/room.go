package line

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// giveRoom lets the tasks of a standing load have room for the set-ups that they
// do not need, as those of a load have that is placed here: so that what stands
// before them can be taken out. It takes the mandrels and racks that this asks
// for, and gives no room where they are not free, or where the flow, the open
// time or now does not leave any.
func (t *Timetable) giveRoom(l *Load) {
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Wrap} {
		for _, run := range l.Runs {
			pieces := 0
			for _, task := range l.tasksAt(stage, run.Section) {
				pieces += task.Pieces
				t.giveTaskRoom(l, task, pieces)
			}
		}
	}
}

// giveTaskRoom gives room to one task; it and those of its run that start before
// it at its stage have so many pieces.
func (t *Timetable) giveTaskRoom(l *Load, task *Task, pieces int) {
	origin := t.positions[task.Stage][task.Position].startOf(task, task.work+t.in.Stations[task.Stage].Setup)
	if task.Setup || origin >= task.Start || origin < l.floorOf(t.in, task, pieces) {
		return
	}
	switch task.Stage {
	case shop.Tack:
		if !t.mandrels[t.in.Sections[task.Section].Mandrel].widen(origin, task.Start, task.Pieces) {
			return
		}
	case shop.Wrap:
		if !t.widenRacks(l, origin) {
			return
		}
	}
	task.origin = origin
}

// floorOf returns before when a task may not start for its load's own sake.
func (l *Load) floorOf(in *instance.Instance, task *Task, pieces int) (floor Tick) {
	switch task.Stage {
	case shop.Cut:
		floor = l.CureStart - in.Prepregs[task.Prepreg].MaxOpen
	case shop.Tack:
		for _, cut := range in.Sections[task.Section].Cuts {
			floor = max(floor, l.ended(shop.Cut, task.Section, cut.Prepreg, pieces))
		}
	case shop.Wrap:
		floor = l.ended(shop.Roll, task.Section, instance.None, pieces)
	}
	return max(0, floor)
}

// ended returns when a stage has ended so many pieces of a section; at cut, of
// one of its prepregs.
func (l *Load) ended(stage shop.Stage, section, prepreg, pieces int) Tick {
	tasks := l.tasksAt(stage, section)
	slices.SortFunc(tasks, func(a, b *Task) int { return cmp.Compare(a.End, b.End) })
	for _, task := range tasks {
		if task.Prepreg != prepreg {
			continue
		}
		if pieces -= task.Pieces; pieces <= 0 {
			return task.End
		}
	}
	return instance.Never
}

// widen takes n from an earlier instant on, where they are free.
func (p *pool) widen(from, to Tick, n int) bool {
	if p.least(from, to) < n {
		return false
	}
	p.take(from, to, n)
	return true
}

// widenRacks lets a load have its racks from an earlier instant on, where they
// are free.
func (t *Timetable) widenRacks(l *Load, from Tick) bool {
	if from >= l.rackFrom {
		return true
	}
	need := make([]int, len(t.racks))
	for _, r := range l.Racks {
		need[r.Kind.Rack]++
	}
	for r, n := range need {
		if n > 0 && t.racks[r].least(from, l.rackFrom) < n {
			return false
		}
	}
	for r, n := range need {
		t.racks[r].take(from, l.rackFrom, n)
	}
	l.rackFrom = from
	return true
}
