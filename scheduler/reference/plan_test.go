package reference_test

import (
	"cmp"
	"fmt"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A reader turns a verdict into a plan, without its cost.
type reader struct {
	*model
	v    verdict
	plan *plan.Plan
}

// plan returns the plan that a verdict means.
func (m *model) plan(v verdict) *plan.Plan {
	r := reader{m, v, &plan.Plan{Format: plan.Format, Shop: m.s.Name, Now: m.s.Now}}
	loads := r.chosen()
	for i, l := range loads {
		r.addLoad(l, loadName(i))
	}
	for _, b := range m.batches {
		in := r.carriers(b, loads, goesIn)
		ready := r.carriers(b, loads, isReady)
		for _, w := range b.works() {
			if w.stage < shop.Pull {
				r.addTasks(w, in)
			} else {
				r.addTasks(w, ready)
			}
		}
	}
	if m.s.Released != nil {
		r.plan.Loads = append(r.plan.Loads, m.s.Released.Loads...)
		r.plan.Tasks = append(r.plan.Tasks, m.s.Released.Tasks...)
	}
	r.place()
	r.stateSetups()
	r.allocate()
	return r.plan
}

func loadName(i int) string { return fmt.Sprintf("load %d", i+1) }

func (r *reader) chosen() (all []*load) {
	for _, l := range r.loads {
		if r.v.of(l.chosen) == 1 {
			all = append(all, l)
		}
	}
	return all
}

func (r *reader) addLoad(l *load, id string) {
	oven := &r.s.Ovens[l.loading.oven]
	r.plan.Loads = append(r.plan.Loads, shop.Load{
		ID: id, Oven: oven.ID, Profile: r.s.Profiles[l.profile].ID, Racks: l.uses,
		In: r.instant(l.in), CureStart: r.instant(l.cure), CureEnd: r.instant(l.cure + r.whole(l.minutes)), Out: r.instant(l.out),
	})
}

// carriers lists the loads that the batches of a kind are in, each as often as it has
// one, in the order in which something happens in them.
func (r *reader) carriers(b *batch, loads []*load, slot func(*load) int) (ids []string) {
	order := make([]int, len(loads))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(slot(loads[i]), slot(loads[j])) })
	for _, i := range order {
		ids = append(ids, slices.Repeat([]string{loadName(i)}, b.of(r.model, loads[i].pieces))...)
	}
	return ids
}

// addTasks adds some work for all batches of a kind: the n-th to begin is in the n-th
// load. Where all positions are alike, they are still to be found.
func (r *reader) addTasks(w *work, ids []string) {
	add := func(position, start, end int) {
		r.plan.Tasks = append(r.plan.Tasks, shop.Task{
			Load: ids[0], Section: w.ID, Stage: w.stage, Prepreg: w.prepreg, Position: position, Pieces: w.pieces,
			Start: r.instant(start), End: r.instant(end),
		})
		ids = ids[1:]
	}
	placings := slices.Clone(r.placings)
	slices.SortStableFunc(placings, func(a, b *placing) int { return cmp.Compare(a.start, b.start) })
	for _, p := range placings {
		if p.work == w && r.v.of(p.chosen) == 1 {
			add(p.position, p.start, p.end)
		}
	}
	for t := 0; len(ids) > 0; t++ {
		for range r.v.of(rise(w.begun, t)) {
			end, _ := r.stationClock(w.stage, 1).after(t, w.slots)
			add(0, t, end)
		}
	}
}

// place gives each task without a position the first that is free for it.
func (r *reader) place() {
	slices.SortStableFunc(r.plan.Tasks, func(a, b shop.Task) int { return cmp.Compare(a.Start.Minute, b.Start.Minute) })
	for i := range r.plan.Tasks {
		task := &r.plan.Tasks[i]
		for p := 1; task.Position == 0; p++ {
			taken := func(o shop.Task) bool {
				return o.Stage == task.Stage && o.Position == p && o.Start.Minute < task.End.Minute && task.Start.Minute < o.End.Minute
			}
			if !slices.ContainsFunc(r.plan.Tasks, taken) {
				task.Position = p
			}
		}
	}
}

// A place is one position of a stage.
type place struct {
	stage    shop.Stage
	position int
}

// stateSetups says of each task whether its position was set up for another key.
func (r *reader) stateSetups() {
	last := map[place]string{}
	for _, stage := range shop.Stages() {
		for i, key := range r.s.Stations.At(stage).LastSetup {
			if key != nil {
				last[place{stage, i + 1}] = *key
			}
		}
	}
	for i := range r.plan.Tasks {
		task := &r.plan.Tasks[i]
		at := place{task.Stage, task.Position}
		if key := keyOf(task, r.sectionOf(task)); key != "" {
			if !r.isReleased(task) {
				task.Setup = last[at] != key
			}
			last[at] = key
		}
	}
}

func (r *reader) sectionOf(task *shop.Task) *section {
	i := slices.IndexFunc(r.sections, func(s *section) bool { return s.ID == task.Section })
	return r.sections[i]
}

func (r *reader) isReleased(task *shop.Task) bool {
	return slices.ContainsFunc(r.releasedLoads(), func(l shop.Load) bool { return l.ID == task.Load })
}
