package line

import "blankwright/scheduler/shop"

// A change is one entry of the trail: what was done, so that it can be undone.
type change struct {
	kind  changeKind
	task  *Task
	load  *Load
	pool  *pool
	use   use  // of the pool; of its position, for a task that was put off
	start Tick // of the task before it moved
	setup bool // of the task before it moved
}

type changeKind uint8

const (
	added changeKind = iota
	removed
	moved
	took
	hungIn
	hungOut
	wasPutOff
)

// Mark returns the place on the trail to which Undo can go back.
func (t *Timetable) Mark() int { return len(t.trail) }

// Keep forgets the trail: what was done stays done.
func (t *Timetable) Keep() { t.trail = t.trail[:0] }

// Undo takes back everything that was done since a mark, newest first.
func (t *Timetable) Undo(mark int) {
	for len(t.trail) > mark {
		c := t.trail[len(t.trail)-1]
		t.trail = t.trail[:len(t.trail)-1]
		t.takeBack(&c)
	}
}

func (t *Timetable) takeBack(c *change) {
	switch c.kind {
	case added:
		t.dropTask(c.task)
	case removed:
		t.putTask(c.task)
	case moved:
		t.shift(c.task, c.start, c.setup)
	case took:
		c.pool.take(c.use.from, c.use.to, -c.use.n)
	case hungIn:
		t.ovens[c.load.Oven].leave(c.load)
	case hungOut:
		t.ovens[c.load.Oven].take(c.load)
	case wasPutOff:
		t.dropTask(c.task)
		t.putAt(c.task, c.use)
	}
}

// hangIn gives a load its oven, and notes it.
func (t *Timetable) hangIn(l *Load) {
	t.ovens[l.Oven].take(l)
	t.trail = append(t.trail, change{kind: hungIn, load: l})
}

// hangOut takes a load's oven from it, and notes it.
func (t *Timetable) hangOut(l *Load) {
	t.ovens[l.Oven].leave(l)
	t.trail = append(t.trail, change{kind: hungOut, load: l})
}

// addTask puts a new task where its fields say, and notes it.
func (t *Timetable) addTask(task *Task) {
	t.putTask(task)
	t.trail = append(t.trail, change{kind: added, task: task})
}

// removeTask takes a task away, and notes it.
func (t *Timetable) removeTask(task *Task) {
	t.dropTask(task)
	t.trail = append(t.trail, change{kind: removed, task: task})
}

// moveTask changes a task's start and set-up, and notes it.
func (t *Timetable) moveTask(task *Task, start Tick, setup bool) {
	t.trail = append(t.trail, change{kind: moved, task: task, start: task.Start, setup: task.Setup})
	t.shift(task, start, setup)
}

// use takes n of a pool, and notes it; a negative n gives back.
func (t *Timetable) use(p *pool, u use) {
	p.take(u.from, u.to, u.n)
	t.trail = append(t.trail, change{kind: took, pool: p, use: u})
}

func (t *Timetable) putTask(task *Task) {
	p := t.positions[task.Stage][task.Position]
	p.insert(task)
	if crew, people := t.crewOf(task.Stage); crew != nil {
		p.occupy(crew, task.Start, task.End, people)
	}
	t.count(task, 1)
	if task.Stage == shop.Cut && t.ledgers[task.Prepreg] != nil {
		t.ledgers[task.Prepreg].add(newDraw(task, t.area(task), task.Load.CureStart))
	}
}

func (t *Timetable) dropTask(task *Task) {
	p := t.positions[task.Stage][task.Position]
	p.remove(task)
	if crew, people := t.crewOf(task.Stage); crew != nil {
		p.occupy(crew, task.Start, task.End, -people)
	}
	t.count(task, -1)
	if task.Stage == shop.Cut && t.ledgers[task.Prepreg] != nil {
		t.ledgers[task.Prepreg].remove(task)
	}
}

// count counts a task's set-up and minutes in, or out.
func (t *Timetable) count(task *Task, sign int) {
	minutes := task.work
	if task.Setup {
		t.setups[task.Stage] += sign
		minutes += t.in.Stations[task.Stage].Setup
	}
	t.minutes[task.Stage] += sign * max(1, minutes)
}

// shift moves a task's start within its gap. The order on its position does
// not change by it.
func (t *Timetable) shift(task *Task, start Tick, setup bool) {
	p := t.positions[task.Stage][task.Position]
	if crew, people := t.crewOf(task.Stage); crew != nil {
		if start > task.Start {
			p.occupy(crew, task.Start, start, -people)
		} else {
			p.occupy(crew, start, task.Start, people)
		}
	}
	if task.Stage == shop.Cut && t.ledgers[task.Prepreg] != nil {
		d := t.ledgers[task.Prepreg].remove(task)
		d.start = int32(start)
		t.ledgers[task.Prepreg].add(d)
	}
	i := p.index(task)
	s := p.slots.at(i)
	s.from, s.setup = int32(start), setup
	t.count(task, -1)
	task.Start, task.Setup, task.Load.starts = start, setup, nil
	t.count(task, 1)
}
