package carry

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// runsOf returns the runs of the work, in the order of their first tasks, each
// with its tasks in the order in which they are planned.
func runsOf(w Work) []*run {
	type key struct{ load, section string }
	found := map[key]*run{}
	var runs []*run
	for _, i := range plannedOrder(w) {
		t := &w.Tasks[i].Planned
		r := found[key{t.Load, t.Section}]
		if r == nil {
			r = &run{load: t.Load, section: t.Section}
			found[key{t.Load, t.Section}] = r
			runs = append(runs, r)
		}
		r.add(w, i)
	}
	return runs
}

// add takes in a task, which comes after those that the run has.
func (r *run) add(w Work, i int) {
	t := &w.Tasks[i].Planned
	r.stages[t.Stage] = append(r.stages[t.Stage], i)
	if t.Stage != shop.Cut {
		return
	}
	for k, tasks := range r.cuts {
		if w.Tasks[tasks[0]].Planned.Prepreg == t.Prepreg {
			r.cuts[k] = append(tasks, i)
			return
		}
	}
	r.cuts = append(r.cuts, []int{i})
}

// before returns the tasks of the stage before a task's own, in groups each of
// which has to bring the pieces; none before cut.
func (r *run) before(stage shop.Stage) [][]int {
	switch {
	case stage == shop.Cut:
		return nil
	case stage == shop.Tack:
		return r.cuts
	}
	return [][]int{r.stages[stage-1]}
}

// group returns the tasks that work the same pieces as a task at its stage: at
// cut those of its prepreg.
func (r *run) group(t *shop.Task, w Work) []int {
	if t.Stage != shop.Cut {
		return r.stages[t.Stage]
	}
	for _, tasks := range r.cuts {
		if w.Tasks[tasks[0]].Planned.Prepreg == t.Prepreg {
			return tasks
		}
	}
	return nil
}

// plannedOrder returns the tasks of the work by their planned start; ties stay
// as they are given.
func plannedOrder(w Work) []int {
	order := make([]int, len(w.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(w.Tasks[a].Planned.Start.Minute, w.Tasks[b].Planned.Start.Minute)
	})
	return order
}
