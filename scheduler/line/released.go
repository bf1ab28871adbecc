package line

import (
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// keepReleased takes out of every resource what the released work occupies
// (rule R15).
func (t *Timetable) keepReleased() {
	r := &t.in.Released
	t.fixed = make([]Task, len(r.Tasks))
	for i, f := range r.Tasks {
		t.fixed[i] = Task{
			Section: f.Section, Stage: f.Stage, Prepreg: f.Prepreg, Position: f.Position, Pieces: f.Pieces,
			Setup: f.Setup, Start: f.Start, End: f.End,
			key: t.in.Key(f.Stage, f.Section, f.Prepreg), origin: f.Start, serial: i,
		}
	}
	t.keepPositions()
	t.keepCrews()
	t.keepRacks()
	t.keepMandrels()
	t.keepDraws()
}

// keepPositions puts released tasks on their positions. Where they overlap,
// which is not judged, a task counts until all before it have ended.
func (t *Timetable) keepPositions() {
	order := make([]*Task, 0, len(t.fixed))
	for i := range t.fixed {
		order = append(order, &t.fixed[i])
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := order[i], order[j]
		if a.Start != b.Start {
			return a.Start < b.Start
		}
		return a.End < b.End
	})
	for _, task := range order {
		if task.Position >= len(t.positions[task.Stage]) {
			continue
		}
		p := t.positions[task.Stage][task.Position]
		stand := *task
		if n := p.slots.len(); n > 0 {
			stand.End = max(stand.End, p.slots.at(n-1).end())
		}
		p.insert(&stand)
	}
}

func (t *Timetable) keepCrews() {
	held := make([][]int, len(t.crews))
	take := func(c int, spans []instance.Span, from, to Tick, people int) {
		if held[c] == nil {
			held[c] = make([]int, t.in.Horizon)
		}
		for _, s := range spans {
			for m := max(s.From, from); m < min(s.To, to); m++ {
				held[c][m] += people
			}
		}
	}
	for i := range t.fixed {
		task := &t.fixed[i]
		station := &t.in.Stations[task.Stage]
		if station.Crew != instance.None && task.Position < len(station.Positions) {
			take(station.Crew, station.Positions[task.Position].Spans, task.Start, task.End, station.People)
		}
	}
	whole := []instance.Span{{From: 0, To: t.in.Horizon}}
	for _, load := range t.in.Released.Loads {
		if oven := &t.in.Ovens[load.Oven]; oven.Crew != instance.None {
			take(oven.Crew, whole, load.In, load.CureStart, oven.People)
			take(oven.Crew, whole, load.Out-oven.Unload, load.Out, oven.People)
		}
	}
	for c, h := range held {
		if h != nil {
			t.crews[c].reserve(h)
		}
	}
}

func (t *Timetable) keepRacks() {
	uses := make([][]use, len(t.racks))
	for _, load := range t.in.Released.Loads {
		for _, r := range load.Racks {
			uses[r] = append(uses[r], use{load.Start, load.Until, 1})
		}
	}
	reserveAll(t.racks, uses)
}

func (t *Timetable) keepMandrels() {
	uses := make([][]use, len(t.mandrels))
	for i := range t.fixed {
		task := &t.fixed[i]
		m := t.in.Sections[task.Section].Mandrel
		switch task.Stage {
		case shop.Tack:
			uses[m] = append(uses[m], use{task.Start, instance.Never, task.Pieces})
		case shop.Pull:
			uses[m] = append(uses[m], use{t.cleaned(task.End, m), instance.Never, -task.Pieces})
		}
	}
	reserveAll(t.mandrels, uses)
}

func reserveAll(pools []*pool, uses [][]use) {
	for i, u := range uses {
		if len(u) > 0 {
			pools[i].reserve(u)
		}
	}
}

// cleaned returns when a mandrel that is pulled at t is free again.
func (t *Timetable) cleaned(at Tick, mandrel int) Tick {
	turn := t.in.Shop.MandrelTypes[mandrel].TurnaroundMinutes
	return t.in.Cleaning.Ahead(at, turn)
}

func (t *Timetable) keepDraws() {
	for i := range t.fixed {
		task := &t.fixed[i]
		if task.Stage != shop.Cut || task.Start < 0 || t.ledgers[task.Prepreg] == nil {
			continue
		}
		load := t.in.Released.Loads[t.in.Released.Tasks[i].Load]
		t.ledgers[task.Prepreg].add(newDraw(task, t.area(task), load.CureStart))
	}
}

// area returns what a cut task draws of its prepreg.
func (t *Timetable) area(task *Task) float64 {
	for _, cut := range t.in.Sections[task.Section].Cuts {
		if cut.Prepreg == task.Prepreg {
			return float64(task.Pieces) * cut.Area
		}
	}
	return 0
}

// Released returns the released tasks, in the shop file's order.
func (t *Timetable) Released() []Task { return t.fixed }
