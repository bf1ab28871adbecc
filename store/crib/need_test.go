package crib_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// bench is a shop whose pull station works from eight to four on weekdays, and
// cleans a mandrel of type B within an hour of that.
func bench() *shop.Shop {
	day := []shop.Window{{8 * 60, 16 * 60}}
	return &shop.Shop{
		Timezone:     "UTC",
		Calendars:    map[string]shop.Calendar{"day": {Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day}}, "never": {}},
		Stations:     shop.Stations{Pull: shop.Station{Calendar: "day"}},
		MandrelTypes: []shop.MandrelType{{ID: "B", TurnaroundMinutes: 60}},
		Products:     []shop.Product{{ID: "P", Sections: []shop.Section{{ID: "P.1", Mandrel: "B"}}}},
	}
}

// task is a task of load L from one hour after noon to another.
func task(stage shop.Stage, pieces, from, to int) shop.Task {
	return shop.Task{
		Load: "L", Section: "P.1", Stage: stage, Pieces: pieces,
		Start: shop.InstantOf(hour(from)), End: shop.InstantOf(hour(to)),
	}
}

// A turnaround counts the pull station's working minutes only (rule R9).
func TestWorked(t *testing.T) {
	monday := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	clock := func(day, hour int) int64 {
		return monday.AddDate(0, 0, day).Add(time.Duration(hour)*time.Hour).Unix() / 60
	}
	for _, test := range []struct {
		name     string
		calendar string
		from     int64
		minutes  int
		want     int64
	}{
		{"within the day", "day", clock(0, 9), 60, clock(0, 10)},
		{"to the window's end", "day", clock(0, 15), 60, clock(0, 16)},
		{"over the night", "day", clock(0, 15), 120, clock(1, 9)},
		{"over the weekend", "day", clock(4, 17), 60, clock(7, 9)},
		{"no time at all", "day", clock(5, 0), 0, clock(5, 0)},
		{"three weeks of work", "day", clock(0, 8), 15 * 8 * 60, clock(18, 16)},
		{"never open", "never", clock(0, 9), 60, clock(366, 0)},
	} {
		s := bench()
		s.Stations.Pull.Calendar = test.calendar
		if got := crib.Worked(s, test.from, test.minutes, time.UTC); got != test.want {
			t.Errorf("%s: minute %d, want %d", test.name, got, test.want)
		}
	}
}

// What is tacked first is pulled first, so a tack task's mandrels come back
// when as many have been pulled, cleaned; what is never pulled never does.
func TestNeeds(t *testing.T) {
	tasks := []shop.Task{
		task(shop.Tack, 3, 1, 2), task(shop.Tack, 4, 0, 1), task(shop.Roll, 7, 2, 3),
		task(shop.Pull, 5, 20, 21), task(shop.Pull, 1, 22, 23),
	}
	want := []crib.Need{
		{Load: "L", Section: "P.1", Type: "B", Pieces: 4, Out: hour(0), Back: hour(22)},
		{Load: "L", Section: "P.1", Type: "B", Pieces: 1, Out: hour(1)},
		{Load: "L", Section: "P.1", Type: "B", Pieces: 1, Out: hour(1), Back: hour(22)},
		{Load: "L", Section: "P.1", Type: "B", Pieces: 1, Out: hour(1), Back: hour(24)},
	}
	if diff := cmp.Diff(want, crib.Needs(bench(), tasks)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// At every instant the needs hold what rule R9 counts: tacked, less pulled and
// cleaned since.
func TestNeeds_CountAsR9(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tasks []shop.Task
		tacked := 0
		for range rapid.IntRange(1, 5).Draw(t, "tacks") {
			from := rapid.IntRange(0, 9).Draw(t, "tack")
			tasks = append(tasks, task(shop.Tack, rapid.IntRange(1, 4).Draw(t, "pieces"), from, from+1))
			tacked += tasks[len(tasks)-1].Pieces
		}
		for left := tacked; left > 0; {
			from := rapid.IntRange(30, 60).Draw(t, "pull")
			pull := task(shop.Pull, rapid.IntRange(1, left).Draw(t, "pulled"), from, from+1)
			tasks, left = append(tasks, pull), left-pull.Pieces
		}
		needs := crib.Needs(bench(), tasks)
		for h := range 200 {
			if got, want := held(needs, hour(h)), countR9(tasks, hour(h)); got != want {
				t.Fatalf("after %d h %d are out, want %d", h, got, want)
			}
		}
	})
}

func held(needs []crib.Need, at time.Time) int {
	out := 0
	for _, n := range needs {
		if !n.Out.After(at) && n.Back.After(at) {
			out += n.Pieces
		}
	}
	return out
}

// countR9 counts by the rule's own words, in hours, for all here is on whole
// ones.
func countR9(tasks []shop.Task, at time.Time) int {
	out := 0
	for _, t := range tasks {
		switch t.Stage {
		case shop.Tack:
			if !t.Start.Time().After(at) {
				out += t.Pieces
			}
		case shop.Pull:
			worked := 0
			for m := t.End.Time(); m.Before(at); m = m.Add(time.Hour) {
				if m.Weekday() != time.Saturday && m.Weekday() != time.Sunday && m.Hour() >= 8 && m.Hour() < 16 {
					worked++
				}
			}
			if worked >= 1 {
				out -= t.Pieces
			}
		}
	}
	return out
}

// What came off its load already is needed there no more: what was to come back
// first is taken off first, and what never does last.
func TestStillOut(t *testing.T) {
	forGood := need("L0", 2, -20, 0)
	forGood.Back = time.Time{}
	needs := []crib.Need{need("L0", 3, -20, 40), forGood, need("L0", 2, -18, 30), need("L1", 1, -20, 30)}
	key := crib.LoadType{Load: "L0", Type: needs[0].Type}
	for used, want := range map[int][]crib.Need{
		0: needs,
		1: {need("L0", 3, -20, 40), forGood, need("L0", 1, -18, 30), need("L1", 1, -20, 30)},
		4: {need("L0", 1, -20, 40), forGood, need("L1", 1, -20, 30)},
		9: {need("L1", 1, -20, 30)},
	} {
		counts := map[crib.LoadType]int{key: used}
		out, off := crib.StillOut(needs, counts)
		if diff := cmp.Diff(want, out); diff != "" {
			t.Errorf("%d used (-want +got):\n%s", used, diff)
		}
		if got := pieces(out) + pieces(off); got != pieces(needs) {
			t.Errorf("%d used: %d pieces are out or off, want %d", used, got, pieces(needs))
		}
		if counts[key] != used {
			t.Error("the counts are changed")
		}
	}
}

func pieces(needs []crib.Need) (n int) {
	for _, need := range needs {
		n += need.Pieces
	}
	return n
}
