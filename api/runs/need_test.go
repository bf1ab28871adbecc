package runs_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A plan without released work never needs more mandrels than are ready.
func TestNeeds_Ready(t *testing.T) {
	for seed, made := range madeShops(t) {
		s, p := made.shop, made.Plan
		for _, n := range runs.Needs(s, p) {
			if n.Out > n.Ready && s.Released == nil {
				t.Errorf("shop %d needs %d of type %s on %s, of which %d are ready", seed, n.Out, n.Type, n.Day, n.Ready)
			}
		}
	}
}

// Mandrels are out from tack until they are clean after pull, which takes working
// minutes; what comes back at an instant is free for what goes out then.
func TestNeeds(t *testing.T) {
	s := twoLines(false)
	s.MandrelTypes[0].TurnaroundMinutes = 60
	day := map[string]shop.Calendar{"day": {Weekly: everyDay(shop.Window{8 * 60, 16 * 60})}}
	for id, c := range s.Calendars {
		day[id] = c
	}
	s.Calendars, s.Stations.Pull.Calendar = day, "day"
	kind := s.MandrelTypes[0].ID
	s.Mandrels = []shop.Mandrel{{ID: "1", Type: kind, State: shop.Ready}, {ID: "2", Type: kind, State: "quarantine"}}
	p := &plan.Plan{Tasks: []shop.Task{
		task(shop.Tack, 3, 0, 9*60, 10*60),
		task(shop.Tack, 2, 0, 12*60, 13*60),
		task(shop.Pull, 2, 0, 13*60, 14*60),         // clean at 15:00
		task(shop.Tack, 1, 0, 15*60, 16*60),         // so that 4 are out
		task(shop.Pull, 4, 0, 15*60, 15*60+30),      // clean at 8:30 the next day
		task(shop.Tack, 2, 1, 8*60+30, 9*60),        // as these go out
		task(shop.Pull, 2, 1, 15*60+30, 15*60+30+1), // clean at 8:31 on the third
	}}
	monday := bareDay(0)
	want := []runs.Need{
		{Type: kind, Day: monday, Out: 5, Ready: 1},
		{Type: kind, Day: monday + 1, Out: 4, Ready: 1},
		{Type: kind, Day: monday + 2, Out: 2, Ready: 1},
	}
	if diff := cmp.Diff(want, runs.Needs(s, p)); diff != "" {
		t.Errorf("needs (-want +got):\n%s", diff)
	}
}

func everyDay(w shop.Window) shop.Weekly {
	day := []shop.Window{w}
	return shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}
}

// task is a task on the bare shop's section.
func task(stage shop.Stage, pieces, day, from, to int) shop.Task {
	return shop.Task{Load: "A", Section: "S", Stage: stage, Position: 1, Pieces: pieces, Start: bareAt(day, from), End: bareAt(day, to)}
}
