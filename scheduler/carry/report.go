package carry

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// report returns what all of it comes to.
func (f *floor) report() *Standing {
	f.markOver()
	f.findTroubles()
	out := &Standing{
		Stations: f.stations(),
		Tasks:    make([]TaskTimes, len(f.tasks)),
		Loads:    make([]LoadTimes, len(f.w.Loads)),
		Troubles: f.troubles,
	}
	var released shop.Released
	for i := range out.Loads {
		out.Loads[i].Over = true // but for those below
	}
	for _, l := range f.loads {
		times := LoadTimes{In: f.instant(l.in), CureStart: f.instant(l.cure), CureEnd: f.instant(l.cureEnd), Out: f.instant(l.out), Over: l.over}
		out.Loads[l.index] = times
		if !l.over {
			carried := l.Planned
			carried.In, carried.CureStart, carried.CureEnd, carried.Out = times.In, times.CureStart, times.CureEnd, times.Out
			released.Loads = append(released.Loads, carried)
		}
	}
	for i, t := range f.tasks {
		if t == nil {
			out.Tasks[i].Over = true
			continue
		}
		out.Tasks[i] = TaskTimes{Count: t.Count, Start: f.instant(t.start), End: f.instant(t.end), Over: t.load.over || t.empty()}
		if !out.Tasks[i].Over {
			released.Tasks = append(released.Tasks, f.carried(t))
		}
	}
	if len(released.Loads) > 0 {
		out.Released = &released
	}
	return out
}

// carried returns a task as a shop file states it.
func (f *floor) carried(t *task) shop.Task {
	out := t.Planned
	out.Pieces, out.Setup = t.Pieces, t.setup
	out.Start, out.End = f.instant(t.start), f.instant(t.end)
	return out
}

func (f *floor) instant(minute int64) shop.Instant { return shop.InstantIn(minute, f.diary.zone) }

func inOrder(changes []change) []change {
	slices.SortStableFunc(changes, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	return changes
}
