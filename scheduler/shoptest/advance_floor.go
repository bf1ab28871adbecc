package shoptest

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// stations returns the stations with the set-ups that the loads which are gone
// left on their positions; those of kept loads are told by their tasks.
func (a *advance) stations() shop.Stations {
	out := a.s.Stations
	last := map[place]shop.Task{}
	for id := range a.gone {
		for _, t := range a.tasks[id] {
			at := place{t.Stage, t.Position}
			if before, any := last[at]; a.key(&t) != "" && (!any || before.Start.Minute < t.Start.Minute) {
				last[at] = t
			}
		}
	}
	for _, stage := range shop.Stages() {
		st := out.At(stage)
		st.LastSetup = slices.Clone(st.LastSetup)
		for position := 1; position <= st.Positions; position++ {
			t, any := last[place{stage, position}]
			if !any {
				continue
			}
			for len(st.LastSetup) < position {
				st.LastSetup = append(st.LastSetup, nil)
			}
			st.LastSetup[position-1] = new(a.key(&t))
		}
	}
	return out
}

// later returns nil for an instant that now has reached.
func (a *advance) later(at *shop.Instant) *shop.Instant {
	if at != nil && at.Minute <= a.now {
		return nil
	}
	return at
}

func (a *advance) ovens() []shop.Oven {
	out := slices.Clone(a.s.Ovens)
	for i := range out {
		out[i].BusyUntil = a.later(out[i].BusyUntil)
	}
	return out
}

func (a *advance) racks() []shop.Rack {
	out := slices.Clone(a.s.Racks)
	for i := range out {
		out[i].BusyUntil = slices.DeleteFunc(slices.Clone(out[i].BusyUntil), func(at shop.Instant) bool { return at.Minute <= a.now })
	}
	return out
}

func (a *advance) mandrels() []shop.Mandrel {
	out := slices.Clone(a.s.Mandrels)
	for i := range out {
		out[i].ReadyAt = a.later(out[i].ReadyAt)
	}
	return out
}

// supply returns what is left when the cut tasks begun before now have drawn
// (rule R12), but for those that had begun before the old now. Rows used up
// stay, because a prepreg without any row is unlimited.
func (a *advance) supply() []shop.Supply {
	out := slices.Clone(a.s.Supply)
	order := make([]*shop.Supply, len(out))
	for i := range out {
		order[i] = &out[i]
	}
	slices.SortStableFunc(order, shop.InDrawOrder)
	cure := map[string]int64{}
	for _, load := range a.p.Loads {
		cure[load.ID] = load.CureStart.Minute
	}
	for _, t := range a.draws() {
		a.draw(order, &t, cure[t.Load])
	}
	return out
}

// draws returns the cut tasks begun between the old now and the new, by start.
func (a *advance) draws() []shop.Task {
	var out []shop.Task
	for _, t := range a.p.Tasks {
		before := a.held[t.Load] && t.Start.Minute < a.s.Now.Minute
		if t.Stage == shop.Cut && t.Start.Minute < a.now && !before {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(x, y shop.Task) int { return cmp.Compare(x.Start.Minute, y.Start.Minute) })
	return out
}

// draw takes a cut task's material from supply, given in order of drawing.
func (a *advance) draw(supply []*shop.Supply, t *shop.Task, cureStart int64) {
	left := a.area(t)
	for _, lot := range supply {
		if lot.Prepreg != t.Prepreg || lot.From.Minute > t.Start.Minute || lot.Expires.Minute < cureStart {
			continue
		}
		used := min(left, lot.M2)
		left -= used
		lot.M2 -= used
	}
}

// area returns the square metres that a cut task uses of its prepreg.
func (a *advance) area(t *shop.Task) float64 {
	k := slices.IndexFunc(a.s.Prepregs, func(p shop.Prepreg) bool { return p.ID == t.Prepreg })
	return a.section[t.Section].M2(&a.s.Prepregs[k]) * float64(t.Pieces)
}
