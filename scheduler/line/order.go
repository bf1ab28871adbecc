package line

import (
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// upstreamOrder returns a load's runs in the order in which they are worked:
// that which was decided, but runs that wait for their mandrels come last, so
// that the others do not wait with them.
func (t *Timetable) upstreamOrder(l *Load) []rack.Run {
	runs := append(make([]rack.Run, 0, len(l.Runs)), l.Runs...)
	free := make([]Tick, len(t.mandrels))
	waits := false
	for _, run := range runs {
		m := t.in.Sections[run.Section].Mandrel
		at := t.mandrels[m].freeFrom(run.Pieces, l.Out)
		if at < l.In-freeLongBefore || at >= instance.Never {
			at = 0
		}
		free[m] = max(free[m], at)
		waits = waits || at > 0
	}
	if waits {
		sort.SliceStable(runs, func(i, j int) bool {
			return free[t.in.Sections[runs[i].Section].Mandrel] < free[t.in.Sections[runs[j].Section].Mandrel]
		})
	}
	return runs
}

// freeLongBefore is how long before the oven start mandrels must be free for
// their run not to wait for them.
const freeLongBefore = 1440

// downstreamOrder returns the indices of the batches, those with the scarcest
// mandrels first.
func (a *attempt) downstreamOrder() []int {
	order := make([]int, len(a.batches))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool {
		return a.scarcity(order[i]) > a.scarcity(order[j])
	})
	return order
}

func (a *attempt) scarcity(batch int) int {
	return a.t.in.Mandrels[a.t.in.Sections[a.batches[batch].section].Mandrel].Turns
}
