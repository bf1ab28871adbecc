package store_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A station's queue of a day has what is planned there, what is in work and
// what was done, by position and time; other days have their own.
func TestQueue(t *testing.T) {
	b := newBench(t)
	load := b.released()
	queue := func(day shop.Date) []string {
		tasks, err := b.Queue(b.Context(), "cut", day)
		b.must(err)
		var out []string
		for _, task := range tasks {
			out = append(out, fmt.Sprintf("%d %s %d %s", task.Position, task.Section, task.Pieces, task.State))
		}
		return out
	}
	first, second := b.tasks(load, "TWO-A", "cut")[0], b.tasks(load, "TWO-A", "cut")[1]
	planned := shop.DateOf(first.PlanFrom)
	before := queue(planned)
	if len(before) == 0 || before[0] != "1 TWO-A 4 waiting" {
		t.Errorf("on the day as planned: %v", before)
	}
	b.do(first)
	today := shop.DateOf(b.clock.Now())
	if diff := cmp.Diff([]string{"1 TWO-A 4 done"}, queue(today)); diff != "" {
		t.Errorf("today (-want +got):\n%s", diff)
	}
	if got := queue(planned); len(got) != len(before)-1 {
		t.Errorf("left on the day as planned: %v", got)
	}
	b.clock.Set(second.PlanFrom.Add(-time.Minute))
	_, err := b.ReportBegun(b.Context(), second.ID, time.Time{})
	b.must(err)
	if got := queue(shop.DateOf(b.clock.Now())); got[0] != "1 TWO-A 4 begun" {
		t.Errorf("in work: %v", got)
	}
	_, err = b.Queue(b.Context(), "sand", today)
	refuses(t, err, store.ErrNotFound, `there is no station "sand"`)
}

// An oven's queue has the loads that it holds on a day.
func TestOvenQueue(t *testing.T) {
	b := newBench(t)
	load := b.released()
	l, err := b.FloorLoad(b.Context(), load)
	b.must(err)
	loads, err := b.OvenQueue(b.Context(), l.Planned.Oven, shop.DateOf(l.In))
	b.must(err)
	if len(loads) != 1 || loads[0].Planned.ID != load || loads[0].WentIn {
		t.Errorf("the oven has %+v", loads)
	}
	b.cured(load)
	loads, err = b.OvenQueue(b.Context(), l.Planned.Oven, shop.DateOf(b.clock.Now()))
	b.must(err)
	if len(loads) != 1 || !loads[0].CameOut || loads[0].Out != b.clock.Now() {
		t.Errorf("the oven had %+v", loads)
	}
	_, err = b.OvenQueue(b.Context(), "kiln", shop.DateOf(l.In))
	refuses(t, err, store.ErrNotFound, "")
	all, err := b.FloorLoads(b.Context())
	b.must(err)
	if len(all) != 1 {
		t.Errorf("the floor has %+v", all)
	}
}
