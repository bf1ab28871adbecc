package check

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// A load is one of the plan's, with what it names.
type load struct {
	*shop.Load
	where    string
	released bool
	oven     *shop.Oven
	profile  *shop.Profile
	runs     []*run  // in the order in which the racks name them
	kg       float64 // pieces, mandrels and racks
	tasks    []*task // in the plan's order
}

// taken returns the span in which the load has its oven.
func (l *load) taken() span { return span{l.In.Minute, l.Out.Minute} }

// loading returns the load's loading minutes.
func (l *load) loading() span { return span{l.In.Minute, l.CureStart.Minute} }

// unloading returns the load's unloading minutes, the last before its out.
func (l *load) unloading() span {
	return span{l.Out.Minute - int64(l.oven.UnloadMinutes), l.Out.Minute}
}

// at returns the load's tasks at a stage, in the plan's order.
func (l *load) at(stage shop.Stage) []*task {
	var tasks []*task
	for _, t := range l.tasks {
		if t.Stage == stage {
			tasks = append(tasks, t)
		}
	}
	return tasks
}

// A run is the pieces of one section in one load. A task of a section that
// hangs nowhere in its load makes a run of no pieces.
type run struct {
	section *shop.Section
	pieces  int
	tasks   [shop.StageCount][]*task // by stage, in the plan's order
}

// run returns the load's run of a section, a new one where it has none yet.
func (l *load) run(section *shop.Section) *run {
	for _, r := range l.runs {
		if r.section == section {
			return r
		}
	}
	r := &run{section: section}
	l.runs = append(l.runs, r)
	return r
}

// A task is one of the plan's, with what it names.
type task struct {
	*shop.Task
	index      int
	load       *load
	section    *shop.Section
	station    *shop.Station
	hours      hours // its position's
	needsSetup bool  // by R7; what it states, where that is not judged
}

func (t *task) where() string { return fmt.Sprintf("tasks[%d]", t.index) }

// taken returns the span in which the task has its position.
func (t *task) taken() span { return span{t.Start.Minute, t.End.Minute} }

// A position is one station's workplace and the tasks on it, by start. A plan
// may name positions that are not there.
type position struct {
	stage  shop.Stage
	number int
	there  bool
	tasks  []*task
}
