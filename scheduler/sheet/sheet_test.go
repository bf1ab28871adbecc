package sheet_test

import (
	"fmt"
	"testing"
	"time"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"

	"github.com/google/go-cmp/cmp"
)

// at reads an instant, which carries the offset that a sheet should show.
func at(t testing.TB, text string) shop.Instant {
	t.Helper()
	var i shop.Instant
	if err := i.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return i
}

// date reads a date.
func date(t testing.TB, text string) shop.Date {
	t.Helper()
	var d shop.Date
	if err := d.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return d
}

// always is a calendar that never closes; the windows touch at midnight.
func always() shop.Calendar { return weekly([]shop.Window{{0, 1440}}, true) }

// weekly opens the same windows on every weekday, or on all seven days.
func weekly(windows []shop.Window, weekend bool) shop.Calendar {
	w := shop.Weekly{Mon: windows, Tue: windows, Wed: windows, Thu: windows, Fri: windows}
	if weekend {
		w.Sat, w.Sun = windows, windows
	}
	return shop.Calendar{Weekly: w}
}

// yard is a small invented shop in a zone whose clocks change: one product of
// two sections, one oven, one rack type.
func yard(t testing.TB, floor shop.Calendar) *shop.Shop {
	station := shop.Station{Positions: 1, Calendar: "floor"}
	twoPositions := shop.Station{Positions: 2, Calendar: "floor"}
	return &shop.Shop{
		Format: shop.Format, Name: "Yard", Timezone: "Europe/Berlin", Now: at(t, "2026-03-26T15:00:00+01:00"), HorizonDays: 20,
		Calendars: map[string]shop.Calendar{"floor": floor, "always": always()},
		Policy:    shop.Policy{AmbientC: 20, GapMM: 6, TransferPieces: 8, ShippingCalendar: "always"},
		Stations: shop.Stations{
			Cut: station, Tack: twoPositions, Roll: station, Wrap: station, Pull: station, Strip: station, Trim: station,
		},
		Prepregs:     []shop.Prepreg{{ID: "UD", NestYield: 0.8}, {ID: "SCRIM", NestYield: 0.5}},
		Profiles:     []shop.Profile{{ID: "C125", Segments: []shop.Segment{{RampCPerMin: 2, ToC: 125, SoakMinutes: 80}}, RestMinutes: 20}},
		Ovens:        []shop.Oven{{ID: "OV1", MaxKg: 400}, {ID: "OV2"}},
		MandrelTypes: []shop.MandrelType{{ID: "M1", HangMM: 1200, Kg: 0.5, TurnaroundMinutes: 60}, {ID: "M2", HangMM: 900, Kg: 0.25}},
		Mandrels:     []shop.Mandrel{{ID: "M1-1", Type: "M1", State: shop.Ready}, {ID: "M1-2", Type: "M1", State: "to recoat"}},
		Racks: []shop.Rack{{ID: "long", TareKg: 55, MaxKg: 190, Setups: []shop.Setup{{ID: "two", OuterHeightMM: 2650, Levels: []shop.Level{
			{ClearMM: 1300, Pegs: 40, PitchMM: 18}, {ClearMM: 1000, Pegs: 20, PitchMM: 36},
		}}}}},
		Products: []shop.Product{{ID: "P", Name: "Heron", Sections: []shop.Section{
			{ID: "P.1", Mandrel: "M1", Tape: "PET", ODMM: 12, Kg: 0.1, Flags: []shop.Flag{
				{Prepreg: "UD", LengthMM: 1000, ButtMM: 100, TipMM: 60},
				{Prepreg: "UD", LengthMM: 500, ButtMM: 40, TipMM: 40},
				{Prepreg: "SCRIM", LengthMM: 1000, ButtMM: 50, TipMM: 50},
			}},
			{ID: "P.2", Mandrel: "M2", Tape: "PP", ODMM: 12.5, Kg: 0.05, Flags: []shop.Flag{{Prepreg: "UD", LengthMM: 800, ButtMM: 60, TipMM: 40}}},
		}}},
	}
}

// task is work on P.1 for load L1 on position 1.
func task(t testing.TB, stage shop.Stage, pieces int, start, end string) shop.Task {
	return shop.Task{Load: "L1", Section: "P.1", Stage: stage, Position: 1, Pieces: pieces, Start: at(t, start), End: at(t, end)}
}

// queue returns the tasks of a stage's first position.
func queue(d *sheet.Day, stage shop.Stage) []sheet.Task { return d.Stations[stage].Positions[0].Tasks }

// A task that runs over midnight stands on both days' sheets, each counting
// the minutes that are worked on it.
func TestOf_TaskCrossesMidnight(t *testing.T) {
	s := yard(t, always())
	p := &plan.Plan{Tasks: []shop.Task{task(t, shop.Roll, 4, "2026-03-27T22:00:00+01:00", "2026-03-28T01:30:00+01:00")}}
	want := sheet.Task{
		Load: "L1", Section: "P.1", Product: "Heron", Pieces: 4, Mandrel: "M1", Tape: "PET",
		Start: at(t, "2026-03-27T22:00:00+01:00"), End: at(t, "2026-03-28T01:30:00+01:00"),
	}
	first, second := sheet.Of(s, p, date(t, "2026-03-27")), sheet.Of(s, p, date(t, "2026-03-28"))

	want.CarriedOn = true
	if diff := cmp.Diff([]sheet.Task{want}, queue(first, shop.Roll)); diff != "" {
		t.Errorf("first day (-want +got):\n%s", diff)
	}
	want.CarriedOn, want.CarriedIn = false, true
	if diff := cmp.Diff([]sheet.Task{want}, queue(second, shop.Roll)); diff != "" {
		t.Errorf("second day (-want +got):\n%s", diff)
	}
	for day, minutes := range map[*sheet.Day]int64{first: 120, second: 90} {
		if got := day.Stations[shop.Roll].Positions[0].WorkedMinutes; got != minutes {
			t.Errorf("%s: %d minutes worked, want %d", day.Date, got, minutes)
		}
	}
}

// A day has the tasks that are worked, begin or end on it, and no others.
func TestOf_TasksOfTheDay(t *testing.T) {
	dayShift := weekly([]shop.Window{{420, 930}}, false) // 07:00 to 15:30
	tests := []struct {
		name       string
		floor      shop.Calendar
		start, end string
		day        string
		want       bool
	}{
		{"ends at the midnight that begins the day", always(), "2026-03-26T23:00:00+01:00", "2026-03-27T00:00:00+01:00", "2026-03-27", false},
		{"ends at the midnight that ends the day", always(), "2026-03-26T23:00:00+01:00", "2026-03-27T00:00:00+01:00", "2026-03-26", true},
		{"begins at the midnight that begins the day", always(), "2026-03-27T00:00:00+01:00", "2026-03-27T01:00:00+01:00", "2026-03-27", true},
		{"begins at the midnight that ends the day", always(), "2026-03-27T00:00:00+01:00", "2026-03-27T01:00:00+01:00", "2026-03-26", false},
		{"pauses through a closed day", dayShift, "2026-03-27T15:00:00+01:00", "2026-03-30T07:30:00+02:00", "2026-03-28", false},
		{"goes on after the closed days", dayShift, "2026-03-27T15:00:00+01:00", "2026-03-30T07:30:00+02:00", "2026-03-30", true},
		{"is released outside all hours", dayShift, "2026-03-28T10:00:00+01:00", "2026-03-28T11:00:00+01:00", "2026-03-28", true},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := &plan.Plan{Tasks: []shop.Task{task(t, shop.Roll, 4, test.start, test.end)}}
			d := sheet.Of(yard(t, test.floor), p, date(t, test.day))
			if got := len(queue(d, shop.Roll)) == 1; got != test.want {
				t.Errorf("on the sheet: %v, want %v", got, test.want)
			}
			if d.Idle() == test.want {
				t.Errorf("idle: %v, want %v", d.Idle(), !test.want)
			}
		})
	}
}

// Days on which the clocks change have their real length, and instants their
// offset before and after.
func TestOf_ClockChange(t *testing.T) {
	tests := []struct {
		day, from, to, start, end string
		hours                     float64
		open, worked              int64
	}{
		// From 01:30 to 03:30 there is one hour where 02:00 is skipped …
		{"2026-03-29", "2026-03-29T00:00:00+01:00", "2026-03-30T00:00:00+02:00", "2026-03-29T01:30:00+01:00", "2026-03-29T03:30:00+02:00", 23, 23 * 60, 60},
		// … and three where it comes twice.
		{"2026-10-25", "2026-10-25T00:00:00+02:00", "2026-10-26T00:00:00+01:00", "2026-10-25T01:30:00+02:00", "2026-10-25T03:30:00+01:00", 25, 25 * 60, 180},
		{"2026-10-26", "2026-10-26T00:00:00+01:00", "2026-10-27T00:00:00+01:00", "2026-10-26T01:30:00+01:00", "2026-10-26T03:30:00+01:00", 24, 24 * 60, 120},
	}
	for _, test := range tests {
		t.Run(test.day, func(t *testing.T) {
			utc := func(text string) shop.Instant { return shop.InstantOf(at(t, text).Time().UTC()) }
			p := &plan.Plan{Tasks: []shop.Task{{Section: "P.1", Stage: shop.Roll, Position: 1, Start: utc(test.start), End: utc(test.end)}}}
			d := sheet.Of(yard(t, always()), p, date(t, test.day))
			got := fmt.Sprint(d.From, d.To, d.Hours(), queue(d, shop.Roll)[0].Start, queue(d, shop.Roll)[0].End,
				d.Stations[shop.Roll].Positions[0].OpenMinutes, d.Stations[shop.Roll].Positions[0].WorkedMinutes)
			want := fmt.Sprint(at(t, test.from), at(t, test.to), test.hours, at(t, test.start), at(t, test.end), test.open, test.worked)
			if got != want {
				t.Errorf("got  %s\nwant %s", got, want)
			}
		})
	}
}

// A queue is by start, a set-up names the key of its stage, and downtime of
// the station or the position leaves the open minutes.
func TestOf_Queue(t *testing.T) {
	s := yard(t, weekly([]shop.Window{{420, 690}, {720, 930}}, false))
	s.Downtime = []shop.Downtime{
		{Resource: "tack/1", From: at(t, "2026-03-27T09:00:00+01:00"), To: at(t, "2026-03-27T09:30:00+01:00"), Why: "iron"},
		{Resource: "tack", From: at(t, "2026-03-26T08:00:00+01:00"), To: at(t, "2026-03-27T07:10:00+01:00"), Why: "power"},
		{Resource: "tack/2", From: at(t, "2026-03-27T10:00:00+01:00"), To: at(t, "2026-03-27T11:00:00+01:00"), Why: "other"},
	}
	late := task(t, shop.Tack, 3, "2026-03-27T10:00:00+01:00", "2026-03-27T10:20:00+01:00")
	early := task(t, shop.Tack, 8, "2026-03-27T08:50:00+01:00", "2026-03-27T10:00:00+01:00")
	early.Setup = true
	d := sheet.Of(s, &plan.Plan{Tasks: []shop.Task{late, early}}, date(t, "2026-03-27"))

	got := d.Stations[shop.Tack].Positions
	common := sheet.Task{Load: "L1", Section: "P.1", Product: "Heron", Mandrel: "M1", Tape: "PET"}
	first, second := common, common
	first.Pieces, first.SetUp, first.Start, first.End = 8, "M1", early.Start, early.End
	second.Pieces, second.Start, second.End = 3, late.Start, late.End
	power := sheet.Closure{From: at(t, "2026-03-27T00:00:00+01:00"), To: at(t, "2026-03-27T07:10:00+01:00"), Why: "power"}
	want := []sheet.Position{
		{
			Number: 1, OpenMinutes: 480 - 10 - 30, WorkedMinutes: 40 + 20, Tasks: []sheet.Task{first, second},
			Closures: []sheet.Closure{power, {From: s.Downtime[0].From, To: s.Downtime[0].To, Why: "iron"}},
		},
		{
			Number: 2, OpenMinutes: 480 - 10 - 60, Tasks: []sheet.Task{},
			Closures: []sheet.Closure{power, {From: s.Downtime[2].From, To: s.Downtime[2].To, Why: "other"}},
		},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("tack (-want +got):\n%s", diff)
	}
}

// Each stage with a key names its own, the others none.
func TestOf_SetUpKeys(t *testing.T) {
	want := map[shop.Stage]string{shop.Cut: "UD", shop.Tack: "M1", shop.Wrap: "PET"}
	for _, stage := range shop.Stages() {
		work := task(t, stage, 1, "2026-03-27T08:00:00+01:00", "2026-03-27T08:10:00+01:00")
		work.Setup = true
		if stage == shop.Cut {
			work.Prepreg = "UD"
		}
		d := sheet.Of(yard(t, always()), &plan.Plan{Tasks: []shop.Task{work}}, date(t, "2026-03-27"))
		if got := queue(d, stage)[0].SetUp; got != want[stage] {
			t.Errorf("%s sets up %q, want %q", stage, got, want[stage])
		}
	}
}

// A plan that names what the shop lacks is shown as far as it goes.
func TestOf_UnknownNames(t *testing.T) {
	work := task(t, shop.Tack, 1, "2026-03-27T08:00:00+01:00", "2026-03-27T08:10:00+01:00")
	work.Section, work.Position = "none", 4
	p := &plan.Plan{Tasks: []shop.Task{work}, Loads: []shop.Load{{
		ID: "L1", Oven: "none", Profile: "none", In: work.Start, Out: work.End,
		Racks: []shop.RackUse{{Rack: "none", Setup: "none", Levels: [][]shop.Hang{{{Section: "none", Pieces: 2}}}}, {Rack: "long", Setup: "none"}},
	}}}
	d := sheet.Of(yard(t, always()), p, date(t, "2026-03-27"))
	if got := d.Stations[shop.Tack].Positions[3].Tasks[0].Section; got != "none" {
		t.Errorf("position 4 works %q, want none", got)
	}
	if got := d.Loads[0].Racks[0].Levels[0].Hangs[0]; got.Pieces != 2 || got.PegsEach != 1 {
		t.Errorf("hangs %+v, want 2 pieces on a peg each", got)
	}
}

// The day before the work begins is the first that has not begun itself.
func TestNext(t *testing.T) {
	floor := weekly([]shop.Window{{420, 930}}, false) // 07:00 to 15:30
	friday := task(t, shop.Roll, 4, "2026-03-27T08:00:00+01:00", "2026-03-27T09:00:00+01:00")
	monday := task(t, shop.Roll, 4, "2026-03-30T08:00:00+02:00", "2026-03-30T09:00:00+02:00")
	tests := []struct {
		name  string
		now   string
		tasks []shop.Task
		want  string
	}{
		{"in the afternoon", "2026-03-26T15:00:00+01:00", []shop.Task{monday, friday}, "2026-03-27"},
		{"before the day's work", "2026-03-27T06:00:00+01:00", []shop.Task{monday, friday}, "2026-03-27"},
		{"as the station opens", "2026-03-27T07:00:00+01:00", []shop.Task{monday, friday}, "2026-03-27"},
		{"in the day's work", "2026-03-27T07:01:00+01:00", []shop.Task{monday, friday}, "2026-03-30"},
		{"over a weekend", "2026-03-28T12:00:00+01:00", []shop.Task{monday, friday}, "2026-03-30"},
		{"with nothing to come", "2026-03-27T12:00:00+01:00", []shop.Task{friday}, ""},
		{"with no work at all", "2026-03-27T12:00:00+01:00", nil, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := yard(t, floor)
			s.Now = at(t, test.now)
			got := ""
			if day, ok := sheet.Next(s, &plan.Plan{Now: s.Now, Tasks: test.tasks}); ok {
				got = day.String()
			}
			if got != test.want {
				t.Errorf("next day %q, want %q", got, test.want)
			}
		})
	}
}

// A day on which an oven is only unloaded is one to print; one on which it
// only cures is not.
func TestNext_OvenMoves(t *testing.T) {
	s := yard(t, weekly([]shop.Window{{420, 930}}, false))
	load := shop.Load{ID: "L1", Oven: "OV1", Profile: "C125", In: at(t, "2026-03-26T14:00:00+01:00"), Out: at(t, "2026-03-28T09:00:00+01:00")}
	day, ok := sheet.Next(s, &plan.Plan{Now: s.Now, Loads: []shop.Load{load}})
	if want := date(t, "2026-03-28"); !ok || day != want {
		t.Errorf("next day %s, %v; want %s", day, ok, want)
	}
}

// Over all days, a position's worked minutes are those that lie in its open
// time, counted one by one.
func TestOf_WorkedMinutesAddUp(t *testing.T) {
	s := yard(t, weekly([]shop.Window{{0, 90}, {420, 690}, {1200, 1440}}, true))
	start := at(t, "2026-03-27T21:00:00+01:00")
	end := at(t, "2026-03-31T09:45:00+02:00")
	p := &plan.Plan{Tasks: []shop.Task{{Section: "P.1", Stage: shop.Roll, Position: 1, Start: start, End: end}}}

	var got, want int64
	for day := date(t, "2026-03-26"); day <= date(t, "2026-04-01"); day++ {
		got += sheet.Of(s, p, day).Stations[shop.Roll].Positions[0].WorkedMinutes
	}
	zone, err := time.LoadLocation(s.Timezone)
	if err != nil {
		t.Fatal(err)
	}
	for minute := start.Minute; minute < end.Minute; minute++ {
		local := time.Unix(minute*60, 0).In(zone)
		clock := local.Hour()*60 + local.Minute()
		if clock < 90 || 420 <= clock && clock < 690 || 1200 <= clock {
			want++
		}
	}
	if got != want {
		t.Errorf("%d minutes worked over all days, want %d", got, want)
	}
}
