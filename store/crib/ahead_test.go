package crib_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// Each mandrel that is not scrapped counts once on each day: ready, out, due
// or away, as what is known now tells; and the plan's need is the most that it
// has out at once.
func TestAhead(t *testing.T) {
	onLoad := tool("d", crib.Issued, 3)
	onLoad.Load = "L0"
	mandrels := []crib.Mandrel{
		tool("a", crib.InCrib, 49), tool("b", crib.InCrib, 10), tool("c", crib.InCrib, 50),
		onLoad, backAt(tool("e", crib.Recoating, 50), 30), tool("f", crib.Quarantine, 0), tool("g", crib.Scrapped, 0),
	}
	needs := []crib.Need{
		need("L0", 1, -20, 30), // the mandrel that is out; back tomorrow at six in the evening
		need("L1", 2, 1, 20),   // takes a and b, after which a is due
		need("L2", 4, 22, 50),
	}
	first := shop.DateOf(noon)
	left, known := crib.Outstanding(needs, mandrels, nil, noon)
	got := crib.Ahead(crib.DaysFrom(first, 3, time.UTC), []string{"B", "C"}, needs, left, known, map[string]crib.Limits{"B": {Recoat: 50}})
	want := []crib.Outlook{
		{Type: "B", Date: first, Ready: 2, Out: 1, Due: 1, Away: 2, Needed: 3},
		{Type: "B", Date: first + 1, Ready: 3, Due: 2, Away: 1, Needed: 5, Short: 2},
		{Type: "B", Date: first + 2, Ready: 3, Due: 2, Away: 1, Needed: 4, Short: 1},
		{Type: "C", Date: first},
		{Type: "C", Date: first + 1},
		{Type: "C", Date: first + 2},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// A day of a zone is from midnight to midnight there, also where the clocks
// change.
func TestDaysFrom(t *testing.T) {
	zone, err := time.LoadLocation("America/St_Johns")
	if err != nil {
		t.Fatal(err)
	}
	days := crib.DaysFrom(shop.DateOf(time.Date(2026, 3, 7, 0, 0, 0, 0, time.UTC)), 2, zone)
	for i, want := range []time.Duration{24 * time.Hour, 23 * time.Hour} {
		if got := days[i].To.Sub(days[i].From); got != want {
			t.Errorf("%s has %v, want %v", days[i].Date, got, want)
		}
	}
	if !days[0].To.Equal(days[1].From) {
		t.Errorf("%v is not followed by %v", days[0].To, days[1].From)
	}
}
