package sheet_test

import (
	"testing"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// overnight is a load that is hung on the 26th and the 27th, goes in on the
// 27th and comes out on the 28th.
func overnight(t *testing.T) *plan.Plan {
	return &plan.Plan{
		Loads: []shop.Load{
			{
				ID: "L2", Oven: "OV2", Profile: "C125", In: at(t, "2026-03-27T23:00:00+01:00"), CureStart: at(t, "2026-03-27T23:10:00+01:00"),
				CureEnd: at(t, "2026-03-27T23:40:00+01:00"), Out: at(t, "2026-03-28T00:00:00+01:00"),
			},
			{
				ID: "L1", Oven: "OV1", Profile: "C125", In: at(t, "2026-03-27T14:00:00+01:00"), CureStart: at(t, "2026-03-27T14:10:00+01:00"),
				CureEnd: at(t, "2026-03-27T17:10:00+01:00"), Out: at(t, "2026-03-28T08:00:00+01:00"),
				Racks: []shop.RackUse{{Rack: "long", Setup: "two", Levels: [][]shop.Hang{
					{{Section: "P.1", Pieces: 5}, {Section: "P.2", Pieces: 2}, {Section: "P.1", Pieces: 1}}, {{Section: "P.2", Pieces: 4}},
				}}, {Rack: "long", Setup: "two", Levels: [][]shop.Hang{{{Section: "P.1", Pieces: 2}}}}},
			},
		},
		Tasks: []shop.Task{
			task(t, shop.Wrap, 4, "2026-03-26T16:00:00+01:00", "2026-03-26T17:00:00+01:00"),
			task(t, shop.Wrap, 4, "2026-03-27T08:00:00+01:00", "2026-03-27T09:00:00+01:00"),
		},
	}
}

// A load stands on the sheet of each day on which it is hung or in the oven.
func TestOf_LoadsOfTheDay(t *testing.T) {
	type state struct {
		ID           string
		Hung, InOven bool
	}
	want := map[string][]state{
		"2026-03-25": nil,
		"2026-03-26": {{"L1", true, false}},
		"2026-03-27": {{"L1", true, true}, {"L2", false, true}},
		"2026-03-28": {{"L1", false, true}},
		"2026-03-29": nil,
	}
	for day, states := range want {
		var got []state
		for _, l := range sheet.Of(yard(t, always()), overnight(t), date(t, day)).Loads {
			got = append(got, state{l.ID, l.Hung, l.InOven})
		}
		if diff := cmp.Diff(states, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", day, diff)
		}
	}
}

// Every oven is there with its downtime and the loads that are in it.
func TestOf_Ovens(t *testing.T) {
	s := yard(t, always())
	s.Downtime = []shop.Downtime{{Resource: "oven:OV2", From: at(t, "2026-03-27T20:00:00+01:00"), To: at(t, "2026-03-28T20:00:00+01:00"), Why: "door seal"}}
	got := sheet.Of(s, overnight(t), date(t, "2026-03-27")).Ovens
	want := []sheet.Oven{
		{ID: "OV1", Closures: []sheet.Closure{}, Loads: []string{"L1"}},
		{ID: "OV2", Loads: []string{"L2"}, Closures: []sheet.Closure{
			{From: at(t, "2026-03-27T20:00:00+01:00"), To: at(t, "2026-03-28T00:00:00+01:00"), Why: "door seal"},
		}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("ovens (-want +got):\n%s", diff)
	}
}

// A load weighs its racks, its sections and their mandrels, and may be pulled
// when its profile's rest is over.
func TestOf_LoadFigures(t *testing.T) {
	l := sheet.Of(yard(t, always()), overnight(t), date(t, "2026-03-27")).Loads[0]
	// 2 racks of 55, 8 of P.1 at 0.1 + 0.5, 6 of P.2 at 0.05 + 0.25.
	want := sheet.Load{
		ID: "L1", Oven: "OV1", Hung: true, InOven: true, Kg: 110 + 4.8 + 1.8, MaxKg: 400, Pieces: 14,
		In: at(t, "2026-03-27T14:00:00+01:00"), CureStart: at(t, "2026-03-27T14:10:00+01:00"),
		CureEnd: at(t, "2026-03-27T17:10:00+01:00"), Out: at(t, "2026-03-28T08:00:00+01:00"), PullFrom: at(t, "2026-03-28T08:20:00+01:00"),
	}
	if diff := cmp.Diff(want, l, cmpopts.IgnoreFields(sheet.Load{}, "Racks", "Profile"), cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("load (-want +got):\n%s", diff)
	}
	if l.Profile.ID != "C125" || len(l.Profile.Segments) != 1 {
		t.Errorf("profile %+v, want C125 with its segment", l.Profile)
	}
}

// A rack has its bars at their heights and its pieces on the next free pegs:
// at a pitch of 18, a tube of 12 and a gap of 6 take one peg, half a
// millimetre more takes two.
func TestOf_Rack(t *testing.T) {
	rack := sheet.Of(yard(t, always()), overnight(t), date(t, "2026-03-27")).Loads[0].Racks[0]
	// 2650 less 1300 and 1000 leaves 350: two bars and a foot of 350/3 each.
	share := 350.0 / 3
	want := sheet.Rack{
		Type: "long", SetUp: "two", HeightMM: 2650, TareKg: 55, Kg: 6*0.6 + 6*0.3, MaxKg: 190, Pieces: 12,
		Levels: []sheet.Level{
			{BarMM: 2650 - share, ClearMM: 1300, PitchMM: 18, Pegs: 40, Used: 10, Hangs: []sheet.Hang{
				{Section: "P.1", Product: "Heron", Mandrel: "M1", Pieces: 5, FirstPeg: 1, PegsEach: 1, HangMM: 1200},
				{Section: "P.2", Product: "Heron", Mandrel: "M2", Pieces: 2, FirstPeg: 6, PegsEach: 2, HangMM: 900},
				{Section: "P.1", Product: "Heron", Mandrel: "M1", Pieces: 1, FirstPeg: 10, PegsEach: 1, HangMM: 1200},
			}},
			{BarMM: 1000 + share, ClearMM: 1000, PitchMM: 36, Pegs: 20, Used: 4, Hangs: []sheet.Hang{
				{Section: "P.2", Product: "Heron", Mandrel: "M2", Pieces: 4, FirstPeg: 1, PegsEach: 1, HangMM: 900},
			}},
		},
	}
	if diff := cmp.Diff(want, rack, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("rack (-want +got):\n%s", diff)
	}
	if got := rack.Levels[0].Hangs[1].LastPeg(); got != 9 {
		t.Errorf("the second hang ends on peg %d, want 9", got)
	}
}
