package benchtest

import (
	"cmp"
	"fmt"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// miniTrimmed is the minute of a day in which the last tubes of a run that ends
// on it are done.
const miniTrimmed = 4

// Witness returns the cheapest schedule that the instance's file states as a plan
// for its shop, without its cost.
func (m *Mini) Witness(s *shop.Shop) *plan.Plan {
	w := miniWitness{Mini: m, s: s, plan: &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now}}
	tack := w.tacking()
	for j := range m.Jobs {
		w.hang(j)
		w.addTasks(j, tack[j])
	}
	for i := range m.Orders {
		w.allocate(i)
	}
	return w.plan
}

type miniWitness struct {
	*Mini
	s    *shop.Shop
	plan *plan.Plan
}

func (w *miniWitness) at(m moment) shop.Instant {
	return shop.InstantIn(w.s.Now.Minute+int64(m.day*miniDay+m.minute), w.s.Zone())
}

func (w *miniWitness) end(j int) int { return w.Jobs[j].OvenStart + w.Cure[w.Jobs[j].Family] }

// loadID returns the id of a job's load: its run's oven and start.
func (w *miniWitness) loadID(j int) string {
	return fmt.Sprintf("oven %d from %d", w.Jobs[j].Oven, w.Jobs[j].OvenStart)
}

// hang hangs a job in its load. That goes in in the second minute of its day and
// comes out after the first of its last day, so that loads can follow each other.
func (w *miniWitness) hang(j int) {
	job, id := &w.Jobs[j], w.loadID(j)
	i := slices.IndexFunc(w.plan.Loads, func(l shop.Load) bool { return l.ID == id })
	if i < 0 {
		i = len(w.plan.Loads)
		w.plan.Loads = append(w.plan.Loads, shop.Load{
			ID: id, Oven: ovenID(job.Oven), Profile: familyID(job.Family),
			In: w.at(moment{job.OvenStart, 1}), CureStart: w.at(moment{job.OvenStart, 2}),
			CureEnd: w.at(moment{w.end(j), 0}), Out: w.at(moment{w.end(j), 1}),
			Racks: []shop.RackUse{{Rack: w.s.Racks[0].ID, Setup: w.s.Racks[0].Setups[0].ID, Levels: [][]shop.Hang{nil}}},
		})
	}
	bar := &w.plan.Loads[i].Racks[0].Levels[0]
	*bar = append(*bar, shop.Hang{Section: tubeID(j), Pieces: 1})
}

// A tacking is the station at which a job is tacked, and whether it is set up for
// another mandrel type before. Set-ups take no time here.
type tacking struct {
	station int
	setup   bool
}

// tacking gives each job, in the order of tacking, the first station that is free.
func (w *miniWitness) tacking() []tacking {
	order := make([]int, len(w.Jobs))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w.Jobs[a].TackStart, w.Jobs[b].TackStart) })
	free, kind := make([]int, w.Tackers), slices.Repeat([]int{-1}, w.Tackers)
	given := make([]tacking, len(w.Jobs))
	for _, j := range order {
		job := &w.Jobs[j]
		k := max(0, slices.IndexFunc(free, func(unit int) bool { return unit <= job.TackStart }))
		given[j] = tacking{station: k + 1, setup: kind[k] != job.Mandrel}
		free[k], kind[k] = job.TackStart+job.Tack, job.Mandrel
	}
	return given
}

// A moment is a minute of a day.
type moment struct{ day, minute int }

// addTasks adds a job's tasks. Its tube alone is cut and wrapped at its position,
// which is set up for it.
func (w *miniWitness) addTasks(j int, tack tacking) {
	first, end := w.Jobs[j].TackStart, w.end(j)
	last := first + w.Jobs[j].Tack - 1
	for _, t := range []struct {
		stage    shop.Stage
		from, to moment
	}{
		{shop.Cut, moment{first, miniNoon - 1}, moment{first, miniNoon}},
		{shop.Tack, moment{first, miniNoon}, moment{last, miniNoon + 1}},
		{shop.Roll, moment{last, miniNoon + 1}, moment{last, miniNoon + 2}},
		{shop.Wrap, moment{last, miniNoon + 2}, moment{last, miniNoon + 3}},
		{shop.Pull, moment{end, 1}, moment{end, 2}},
		{shop.Strip, moment{end, 2}, moment{end, 3}},
		{shop.Trim, moment{end, 3}, moment{end, miniTrimmed}},
	} {
		task := shop.Task{
			Load: w.loadID(j), Section: tubeID(j), Stage: t.stage, Position: j + 1, Pieces: 1,
			Setup: t.stage == shop.Cut || t.stage == shop.Wrap, Start: w.at(t.from), End: w.at(t.to),
		}
		switch t.stage {
		case shop.Cut:
			task.Prepreg = tubeID(j)
		case shop.Tack:
			task.Position, task.Setup = tack.station, tack.setup
		}
		w.plan.Tasks = append(w.plan.Tasks, task)
	}
}

// allocate gives an order its set when the last of its tubes is trimmed.
func (w *miniWitness) allocate(order int) {
	end := 0
	for j := range w.Jobs {
		if w.Jobs[j].Order == order {
			end = max(end, w.end(j))
		}
	}
	w.plan.Allocations = append(w.plan.Allocations, plan.Allocation{Line: w.s.Demand[order].ID, Sets: 1, DoneAt: w.at(moment{end, miniTrimmed})})
}
