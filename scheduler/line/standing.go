package line

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A Standing is a load as a valid plan has it: where it is cured, what hangs in
// it, and its tasks, of which the exported fields are read.
type Standing struct {
	ID, Oven, Profile           int
	Racks                       []rack.Rack
	In, CureStart, CureEnd, Out Tick
	Tasks                       []Task
}

// Stand puts loads where a plan has them, in a timetable that has no others.
// What a plan does not tell of a load is set so that it may stay as it is, and
// may save set-ups where it is placed anew.
func (t *Timetable) Stand(standing []Standing) []*Load {
	loads := make([]*Load, len(standing))
	starts := make([][]TaskStart, len(standing))
	for i := range standing {
		loads[i] = standing[i].load(t)
		starts[i] = loads[i].Starts()
	}
	t.PutBack(loads, starts)
	for _, l := range loads {
		t.giveRoom(l)
	}
	return loads
}

// standingPatience is the patience of a load that a plan has.
const standingPatience = 480

func (s *Standing) load(t *Timetable) *Load {
	l := &Load{
		ID: s.ID, Oven: s.Oven, Profile: s.Profile, Racks: s.Racks,
		In: s.In, CureStart: s.CureStart, CureEnd: s.CureEnd, Out: s.Out, Cure: s.CureEnd - s.CureStart,
		Target: s.In, Latest: instance.Never, Patience: standingPatience, Haste: usualHaste, Tries: usualTries,
		Tasks: slices.Clone(s.Tasks), rackFrom: s.In, rackTo: s.Out,
	}
	// Stage by stage, as the tasks of a load that is placed here.
	slices.SortStableFunc(l.Tasks, func(a, b Task) int {
		return cmp.Or(cmp.Compare(a.Stage, b.Stage), cmp.Compare(a.Start, b.Start))
	})
	l.Runs = l.wrapped()
	l.Kg = t.in.Hanger.Kg(l.Runs) + rack.Tare(l.Racks)
	for i := range l.Tasks {
		task := &l.Tasks[i]
		task.Load, task.serial, task.origin = l, i, task.Start
		task.key = t.in.Key(task.Stage, task.Section, task.Prepreg)
		task.work = t.in.Work(task.Stage, task.Section, cutOf(t.in, task), task.Pieces)
		switch task.Stage {
		case shop.Wrap:
			l.rackFrom = min(l.rackFrom, task.Start)
		case shop.Pull:
			l.rackTo = max(l.rackTo, task.End)
		}
	}
	l.returnMandrels(t)
	return l
}

// cutOf returns the index of a cut task's prepreg among its section's cuts.
func cutOf(in *instance.Instance, task *Task) int {
	return slices.IndexFunc(in.Sections[task.Section].Cuts, func(c instance.Cut) bool { return c.Prepreg == task.Prepreg })
}

// wrapped returns what hangs in the load, in the order in which it is wrapped.
func (l *Load) wrapped() (runs []rack.Run) {
	for i := range l.Tasks {
		task := &l.Tasks[i]
		if task.Stage != shop.Wrap {
			continue
		}
		at := slices.IndexFunc(runs, func(r rack.Run) bool { return r.Section == task.Section })
		if at < 0 {
			at = len(runs)
			runs = append(runs, rack.Run{Section: task.Section})
		}
		runs[at].Pieces += task.Pieces
	}
	return runs
}

// returnMandrels tells each tack task when its mandrels are free again: when
// those of a pull task of as many pieces are clean. Where a plan pulls in other
// batches than it tacks, they count as out until all of the run's are clean.
func (l *Load) returnMandrels(t *Timetable) {
	for _, run := range l.Runs {
		pulls := l.tasksAt(shop.Pull, run.Section)
		last := Tick(0)
		for _, pull := range pulls {
			last = max(last, pull.End)
		}
		for _, tack := range l.tasksAt(shop.Tack, run.Section) {
			end := last
			if i := slices.IndexFunc(pulls, func(p *Task) bool { return p.Pieces == tack.Pieces }); i >= 0 {
				end = pulls[i].End
				pulls = slices.Delete(pulls, i, i+1)
			}
			tack.back = t.cleaned(end, t.in.Sections[run.Section].Mandrel)
		}
	}
}

// tasksAt returns a load's tasks of a section at a stage, in their order.
func (l *Load) tasksAt(stage shop.Stage, section int) (tasks []*Task) {
	for i := range l.Tasks {
		if l.Tasks[i].Stage == stage && l.Tasks[i].Section == section {
			tasks = append(tasks, &l.Tasks[i])
		}
	}
	return tasks
}
