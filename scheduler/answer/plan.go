package answer

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// Plan writes an answer as a plan, without its bound. Loads are named in the
// order in which they go in, and tasks listed in the order in which they start:
// that in which the timetable drew material for them.
func (a *Answer) Plan() *plan.Plan {
	s := a.In.Shop
	p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now, Loads: []shop.Load{}, Tasks: []shop.Task{}}
	names := a.names()
	if s.Released != nil {
		p.Loads = append(p.Loads, s.Released.Loads...)
	}
	for _, l := range a.byTime() {
		p.Loads = append(p.Loads, a.load(l, names[l]))
	}
	p.Tasks = a.tasks(names)
	p.Allocations = a.allocations()
	p.Cost = a.money()
	return p
}

func (a *Answer) byTime() []*line.Load {
	loads := append([]*line.Load(nil), a.Loads...)
	slices.SortFunc(loads, func(x, y *line.Load) int {
		return cmp.Or(cmp.Compare(x.In, y.In), cmp.Compare(x.Oven, y.Oven), cmp.Compare(x.ID, y.ID))
	})
	return loads
}

// names gives each load an id that no released load has.
func (a *Answer) names() map[*line.Load]string {
	taken := map[string]bool{}
	if a.In.Shop.Released != nil {
		for _, l := range a.In.Shop.Released.Loads {
			taken[l.ID] = true
		}
	}
	names := map[*line.Load]string{}
	n := 0
	for _, l := range a.byTime() {
		for names[l] == "" || taken[names[l]] {
			n++
			names[l] = fmt.Sprintf("L%03d", n)
		}
	}
	return names
}

func (a *Answer) load(l *line.Load, name string) shop.Load {
	in := a.In
	out := shop.Load{
		ID: name, Oven: in.Ovens[l.Oven].ID, Profile: in.Profiles[l.Profile].ID,
		In: in.Instant(l.In), CureStart: in.Instant(l.CureStart), CureEnd: in.Instant(l.CureEnd), Out: in.Instant(l.Out),
	}
	for _, r := range l.Racks {
		out.Racks = append(out.Racks, a.rack(r))
	}
	return out
}

func (a *Answer) rack(r rack.Rack) shop.RackUse {
	from := a.In.Shop.Racks[r.Kind.Rack]
	use := shop.RackUse{Rack: from.ID, Setup: from.Setups[r.Kind.Setup].ID, Levels: [][]shop.Hang{}}
	for _, runs := range r.Levels {
		level := []shop.Hang{}
		for _, run := range runs {
			level = append(level, shop.Hang{Section: a.In.Sections[run.Section].ID, Pieces: run.Pieces})
		}
		use.Levels = append(use.Levels, level)
	}
	return use
}

// tasks lists released and new tasks by start, those of one instant in the
// order of line.Before.
func (a *Answer) tasks(names map[*line.Load]string) []shop.Task {
	type row struct {
		task *line.Task
		out  shop.Task
	}
	var rows []row
	fixed := a.Table.Released()
	for i := range fixed {
		rows = append(rows, row{&fixed[i], a.In.Shop.Released.Tasks[i]})
	}
	for _, l := range a.Loads {
		for i := range l.Tasks {
			rows = append(rows, row{&l.Tasks[i], a.task(&l.Tasks[i], names[l])})
		}
	}
	sort.SliceStable(rows, func(i, j int) bool {
		if x, y := rows[i].task, rows[j].task; x.Start != y.Start {
			return x.Start < y.Start
		}
		return line.Before(rows[i].task, rows[j].task)
	})
	tasks := make([]shop.Task, len(rows))
	for i := range rows {
		tasks[i] = rows[i].out
	}
	return tasks
}

func (a *Answer) task(t *line.Task, load string) shop.Task {
	in := a.In
	out := shop.Task{
		Load: load, Section: in.Sections[t.Section].ID, Stage: t.Stage, Position: t.Position + 1, Pieces: t.Pieces,
		Setup: t.Setup, Start: in.Instant(t.Start), End: in.Instant(t.End),
	}
	if t.Prepreg != instance.None {
		out.Prepreg = in.Prepregs[t.Prepreg].ID
	}
	return out
}

func (a *Answer) allocations() []plan.Allocation {
	var shares []cost.Share
	for p := range a.In.Products {
		for _, s := range a.Shares(p) {
			if !s.Missing {
				shares = append(shares, s)
			}
		}
	}
	slices.SortStableFunc(shares, func(x, y cost.Share) int {
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.At, y.At))
	})
	out := []plan.Allocation{}
	for i, s := range shares {
		if i > 0 && shares[i-1].Line == s.Line && shares[i-1].At == s.At {
			out[len(out)-1].Sets += s.Sets
			continue
		}
		out = append(out, plan.Allocation{Line: a.In.Lines[s.Line].ID, Sets: s.Sets, DoneAt: a.In.Instant(s.At)})
	}
	return out
}

// money returns the cost in the shop's unit, the released work's included.
func (a *Answer) money() plan.Cost {
	c, fixed := a.Cost(), a.In.ReleasedCost()
	in := a.In
	return plan.Cost{
		Late: in.Price(c.Late), Hold: in.Price(c.Hold), Oven: in.Price(c.Oven + fixed.Oven),
		Setup: in.Price(c.Setup + fixed.Setup), Total: in.Price(c.Total() + fixed.Oven + fixed.Setup),
	}
}
