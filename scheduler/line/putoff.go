package line

import "blankwright/scheduler/shop"

// PutOff moves a placed load's trim task to the first place at which it ends at
// an instant after its end, or starts then or later; it notes that. It reports
// false, and leaves no trace, where there is no such place before the horizon.
// Nothing in the shop waits for a trim, but the sets.
func (t *Timetable) PutOff(task *Task, until Tick) bool {
	was := use{task.Start, task.End, task.Position}
	crew, people := t.crewOf(shop.Trim)
	w := want{key: task.key, work: task.work, crew: crew, people: people}
	t.dropTask(task)
	var best gap
	for _, p := range t.positions[shop.Trim] {
		from := until
		if start, end, ok := p.calendar.Back(until, max(1, w.work)); ok && end == until {
			from = max(start, task.Start)
		}
		if g, fits := p.earliest(&w, from, t.in.Horizon); fits && (best.position == nil || g.end < best.end) {
			best = g
		}
	}
	if best.position == nil {
		t.putTask(task)
		return false
	}
	t.putAt(task, use{best.start, best.end, best.position.number})
	t.trail = append(t.trail, change{kind: wasPutOff, task: task, use: was})
	return true
}

// putAt puts a task that was dropped on the n-th position of its stage.
func (t *Timetable) putAt(task *Task, at use) {
	task.Start, task.origin, task.End, task.Position = at.from, at.from, at.to, at.n
	task.Load.starts = nil
	t.putTask(task)
}
