package line_test

import (
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/check"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shoptest"
)

// Whatever loads are placed, put off and removed, the independent checker finds that the
// timetable keeps every rule, and counts the same cost.
func TestTimetable_KeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := shoptest.Make(rapid.Uint64Range(1, 5000).Draw(t, "shop"), shoptest.Size{Pieces: rapid.IntRange(5, 60).Draw(t, "size")})
		a := answer.New(instance.New(s))
		f := &floor{in: a.In, table: a.Table}
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			var c answer.Change
			if l := f.draw(t); l != nil {
				c.In = []*line.Load{l}
			}
			if len(a.Loads) > 0 && rapid.IntRange(0, 3).Draw(t, "remove") == 0 {
				c.Out = []*line.Load{rapid.SampledFrom(a.Loads).Draw(t, "removed")}
			}
			if a.Try(c) {
				a.Keep()
			}
			f.loads = a.Loads
			if task, until := f.drawWait(t); task != nil && a.PutOff(task, until) {
				a.Keep()
			}
		}
		p := a.Plan()
		if p.Cost.Total > 0 {
			p.Bound.Gap = 1
		}
		for _, breach := range check.Plan(s, p).Breaches {
			t.Errorf("%s", breach)
		}
	})
}
