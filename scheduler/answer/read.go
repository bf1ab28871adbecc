package answer

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// Read returns the answer that a valid plan states, each load and task where the
// plan has it. The sets go to the lines by our own rule, whatever the plan
// allocates.
//
// The instance is of the plan's shop, or of one that differs from it only in
// having more of something: there a plan stands as well.
func Read(in *instance.Instance, p *plan.Plan) *Answer {
	a := New(in)
	for _, l := range a.Table.Stand(newReader(in).loads(p)) {
		a.Loads, a.nextID = append(a.Loads, l), l.ID
		a.book.Add(l)
		a.count(l, 1)
	}
	a.Keep()
	return a
}

// A reader finds what a plan names.
type reader struct {
	in       *instance.Instance
	sections map[string]int
	released map[string]bool
}

func newReader(in *instance.Instance) *reader {
	r := &reader{in: in, sections: map[string]int{}, released: map[string]bool{}}
	for i := range in.Sections {
		r.sections[in.Sections[i].ID] = i
	}
	if in.Shop.Released != nil {
		for i := range in.Shop.Released.Loads {
			r.released[in.Shop.Released.Loads[i].ID] = true
		}
	}
	return r
}

// loads returns the plan's loads without the released ones, numbered from 1 in
// the plan's order.
func (r *reader) loads(p *plan.Plan) (list []line.Standing) {
	number := map[string]int{}
	for i := range p.Loads {
		if l := &p.Loads[i]; !r.released[l.ID] {
			list = append(list, r.load(l, len(list)+1))
			number[l.ID] = len(list)
		}
	}
	for i := range p.Tasks {
		if n := number[p.Tasks[i].Load]; n > 0 {
			list[n-1].Tasks = append(list[n-1].Tasks, r.task(&p.Tasks[i]))
		}
	}
	return list
}

func (r *reader) load(l *shop.Load, id int) line.Standing {
	s := line.Standing{
		ID: id, In: r.tick(l.In), CureStart: r.tick(l.CureStart), CureEnd: r.tick(l.CureEnd), Out: r.tick(l.Out),
	}
	for o := range r.in.Ovens {
		if r.in.Ovens[o].ID == l.Oven {
			s.Oven = o
		}
	}
	for p := range r.in.Profiles {
		if r.in.Profiles[p].ID == l.Profile {
			s.Profile = p
		}
	}
	for i := range l.Racks {
		s.Racks = append(s.Racks, r.rack(&l.Racks[i]))
	}
	return s
}

func (r *reader) rack(use *shop.RackUse) rack.Rack {
	var out rack.Rack
	for _, k := range r.in.Hanger.Kinds {
		row := &r.in.Shop.Racks[k.Rack]
		if row.ID == use.Rack && row.Setups[k.Setup].ID == use.Setup {
			out = rack.Rack{Kind: k, Levels: make([][]rack.Run, len(k.Levels))}
		}
	}
	for level, hangs := range use.Levels {
		for _, h := range hangs {
			out.Levels[level] = append(out.Levels[level], rack.Run{Section: r.sections[h.Section], Pieces: h.Pieces})
		}
	}
	return out
}

func (r *reader) task(t *shop.Task) line.Task {
	task := line.Task{
		Section: r.sections[t.Section], Stage: t.Stage, Prepreg: instance.None, Position: t.Position - 1, Pieces: t.Pieces,
		Setup: t.Setup, Start: r.tick(t.Start), End: r.tick(t.End),
	}
	for p := range r.in.Prepregs {
		if t.Stage == shop.Cut && r.in.Prepregs[p].ID == t.Prepreg {
			task.Prepreg = p
		}
	}
	return task
}

func (r *reader) tick(i shop.Instant) line.Tick { return line.Tick(i.Minute - r.in.Shop.Now.Minute) }
