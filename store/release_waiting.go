package store

import (
	"fmt"
	"time"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
)

// TroubleWaiting is the kind of trouble that pieces have which came to a stage
// whose tasks are all done: after a correction of what came before, say. Nothing
// will carry them on.
const TroubleWaiting = "waiting"

// waiting finds those pieces, run by run. Flags that were cut and are left over
// are no pieces yet.
func (w *releasedWork) waiting(carried carry.Work) []Trouble {
	type at struct {
		load, section string
		stage         shop.Stage
	}
	came, taken, last := map[at]int{}, map[at]int{}, map[at]*releasedTaskRow{}
	counts := carry.Pieces(carried)
	var order []at
	for i := range w.tasks {
		t := &w.tasks[i]
		here := at{t.Load, t.Section, t.stage()}
		if last[here] == nil {
			order = append(order, here)
		}
		last[here] = t
		if t.Done == nil {
			taken[here] += counts[i].Live
			continue
		}
		taken[here] += t.Good + t.Scrapped
		came[at{t.Load, t.Section, here.stage + 1}] += t.Good
	}
	var out []Trouble
	for _, here := range order {
		left := came[here] - taken[here]
		if here.stage <= shop.Tack || left <= 0 {
			continue
		}
		t := last[here]
		out = append(out, Trouble{
			Kind: TroubleWaiting, Load: here.load, Task: t.ID, At: endOf(t),
			What: fmt.Sprintf("of section %s of load %s more has come to %s than its tasks took, by %d: nothing carries that on", here.section, here.load, here.stage, left),
			Mend: fmt.Sprintf("work it, and correct what was reported of task %d: good, or scrapped with the reason", t.ID),
		})
	}
	return out
}

// endOf is when a task was done, or is planned to be.
func endOf(t *releasedTaskRow) time.Time {
	if t.Done != nil {
		return instant(*t.Done)
	}
	return instant(t.Ends)
}
