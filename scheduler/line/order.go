package line

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// A runOrder puts a load's runs in order; it keeps its memory for the next.
type runOrder struct {
	runs []rack.Run
	free []Tick // by mandrel type: when there are enough for all of its runs, 0 where they need not wait
}

// upstream returns a load's runs in the order in which they are worked: that
// which was decided, but runs that wait for their mandrels come last, so that
// the others do not wait with them.
func (o *runOrder) upstream(t *Timetable, l *Load) []rack.Run {
	o.runs = append(o.runs[:0], l.Runs...)
	o.free = append(o.free[:0], make([]Tick, len(t.mandrels))...)
	waits := false
	for _, run := range o.runs {
		m := t.in.Sections[run.Section].Mandrel
		at := t.mandrels[m].freeFrom(run.Pieces, l.Out)
		if at < l.In-freeLongBefore || at >= instance.Never {
			at = 0
		}
		o.free[m] = max(o.free[m], at)
		waits = waits || at > 0
	}
	if waits {
		slices.SortStableFunc(o.runs, func(x, y rack.Run) int {
			return cmp.Compare(o.free[t.in.Sections[x.Section].Mandrel], o.free[t.in.Sections[y.Section].Mandrel])
		})
	}
	return o.runs
}

// freeLongBefore is how long before the oven start mandrels must be free for
// their run not to wait for them.
const freeLongBefore = 1440

// orderDownstream puts the batches in order for the stages after the oven, those
// with the scarcest mandrels first.
func (a *attempt) orderDownstream() {
	a.order = a.order[:0]
	for i := range a.batches {
		a.order = append(a.order, i)
	}
	slices.SortStableFunc(a.order, func(i, j int) int { return cmp.Compare(a.scarcity(j), a.scarcity(i)) })
}

func (a *attempt) scarcity(batch int) int {
	return a.t.in.Mandrels[a.t.in.Sections[a.batches[batch].section].Mandrel].Turns
}
