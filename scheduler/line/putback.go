package line

import "blankwright/scheduler/shop"

// A TaskStart is where a task starts and whether it has a set-up: the two
// things of a placed task that its neighbours can still change.
type TaskStart struct {
	Start Tick
	Setup bool
}

// Starts returns the starts of a load's tasks, as they stand now. The caller does
// not change them.
func (l *Load) Starts() []TaskStart {
	if l.starts == nil {
		l.starts = make([]TaskStart, len(l.Tasks))
		for i := range l.Tasks {
			l.starts[i] = TaskStart{l.Tasks[i].Start, l.Tasks[i].Setup}
		}
	}
	return l.starts
}

// Clear takes out all the loads of a timetable at once.
func (t *Timetable) Clear(loads []*Load) {
	for _, l := range loads {
		t.takeOut(l)
	}
	t.Keep()
}

// PutBack puts loads where they once stood together, in a timetable that has
// no others.
func (t *Timetable) PutBack(loads []*Load, starts [][]TaskStart) {
	for n, l := range loads {
		for i := range l.Tasks {
			task := &l.Tasks[i]
			task.Start, task.Setup = starts[n][i].Start, starts[n][i].Setup
			t.putTask(task)
			if task.Stage == shop.Tack {
				t.mandrels[t.in.Sections[task.Section].Mandrel].take(task.origin, task.back, task.Pieces)
			}
		}
		for _, r := range l.Racks {
			t.racks[r.Kind.Rack].take(l.rackFrom, l.rackTo, 1)
		}
		t.ovens[l.Oven].take(l)
		l.starts = starts[n]
	}
}

// Twin returns a copy of a load with its tasks, for another timetable. The
// tasks' starts are PutBack's to set.
func (l *Load) Twin() *Load {
	c := *l
	c.placed = false
	c.Tasks = append([]Task(nil), l.Tasks...)
	for i := range c.Tasks {
		c.Tasks[i].Load = &c
	}
	return &c
}
