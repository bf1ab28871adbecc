package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Remove takes loads out of the timetable. It returns the loads that had to go
// with them, because one of their tasks now needs a set-up for which it has no
// room; the caller places them again.
func (t *Timetable) Remove(loads ...*Load) (upset []*Load) {
	upset, _ = t.RemoveUpsetting(instance.Never, loads...)
	return upset
}

// RemoveUpsetting is Remove where at most so many loads may have to go with them. It
// reports false as soon as there are more; the caller then undoes what was removed.
func (t *Timetable) RemoveUpsetting(most int, loads ...*Load) (upset []*Load, ok bool) {
	for queue := loads; len(queue) > 0; {
		for _, l := range queue {
			t.takeOut(l)
		}
		var next []*Load
		for _, l := range queue {
			next = t.mend(l, next)
		}
		if upset = append(upset, next...); len(upset) > most {
			return upset, false
		}
		queue = next
	}
	return upset, true
}

func (t *Timetable) takeOut(l *Load) {
	for i := range l.Tasks {
		task := &l.Tasks[i]
		t.removeTask(task)
		if task.Stage == shop.Tack {
			t.use(t.mandrels[t.in.Sections[task.Section].Mandrel], use{task.origin, task.back, -task.Pieces})
		}
	}
	for _, r := range l.Racks {
		t.use(t.racks[r.Kind.Rack], use{l.rackFrom, l.rackTo, -1})
	}
	t.hangOut(l)
}

// mend puts right the set-ups of the tasks behind a removed load's tasks. A
// task that comes to need one starts earlier where there is room for it; else its
// load joins the upset.
func (t *Timetable) mend(l *Load, upset []*Load) []*Load {
	for i := range l.Tasks {
		gone := &l.Tasks[i]
		if gone.key == instance.None {
			continue
		}
		p := t.positions[gone.Stage][gone.Position]
		at := p.after(gone.Start)
		if at == p.slots.len() || p.slots.at(at).released {
			continue
		}
		behind := p.task(at)
		needs := p.keyBefore(at) != behind.key
		switch {
		case needs == behind.Setup:
		case !needs || t.hasRoom(p, at):
			t.refit(p, behind, needs)
		case !contains(upset, behind.Load):
			upset = append(upset, behind.Load)
		}
	}
	return upset
}

// hasRoom reports whether a task has room to need a set-up: its load's other
// tasks leave it, and so must the task before it and the crew.
func (t *Timetable) hasRoom(p *position, i int) bool {
	task := p.task(i)
	start := p.startOf(task, task.work+t.in.Stations[task.Stage].Setup)
	if start < task.origin || start < p.freeFrom(i) {
		return false
	}
	crew, people := t.crewOf(task.Stage)
	if crew == nil {
		return true
	}
	_, short := p.lacking(crew, start, task.Start, people)
	return !short
}

// refit gives a task its set-up, or takes it, by moving its start.
func (t *Timetable) refit(p *position, task *Task, setup bool) {
	minutes := task.work
	if setup {
		minutes += t.in.Stations[task.Stage].Setup
	}
	t.moveTask(task, p.startOf(task, minutes), setup)
}

func contains(loads []*Load, l *Load) bool {
	for _, x := range loads {
		if x == l {
			return true
		}
	}
	return false
}
