package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// The day's sheet is as the wall should have it: the next working day, and
// another one by its date.
func TestQueues_Golden(t *testing.T) {
	tests := []struct{ golden, date string }{
		{"queues-next.txt", ""}, {"queues-monday.txt", "2026-11-30"}, {"queues-idle.txt", "2026-11-29"},
	}
	for _, test := range tests {
		t.Run(test.golden, func(t *testing.T) {
			args := []string{"queues", yardFile, yardPlanFile}
			if test.date != "" {
				args = append(args, "-date", test.date)
			}
			code, stdout, stderr := blankwright(args...)
			if code != exitFine || stderr != "" {
				t.Errorf("exit %d, standard error %q", code, stderr)
			}
			golden(t, test.golden, stdout)
			for _, line := range strings.Split(stdout, "\n") {
				if width := utf8.RuneCountInString(line); width > pageWidth {
					t.Errorf("%d columns wide: %s", width, line)
				}
			}
		})
	}
}

// The JSON is the sheet's day, with the count of breaches.
func TestQueues_JSON(t *testing.T) {
	_, stdout, _ := blankwright("queues", yardFile, yardPlanFile, "-json")
	got := decoded(t, stdout)
	if got["date"] != "2026-11-27" || got["breaches"] != 0.0 {
		t.Errorf("date %v, breaches %v; want 2026-11-27 and 0", got["date"], got["breaches"])
	}
	if stations, _ := got["stations"].([]any); len(stations) != shop.StageCount {
		t.Errorf("%d stations, want all", len(stations))
	}
}

// A plan that breaks rules is shown with a warning on the paper itself, and
// exits with 1.
func TestQueues_BrokenPlan(t *testing.T) {
	code, stdout, stderr := blankwright("queues", yardFile, brokenPlan(t))
	if code != exitBroken || !strings.Contains(stdout, "THIS PLAN BREAKS RULES") || !strings.Contains(stderr, "breach") {
		t.Errorf("exit %d, standard error %q, sheet:\n%s", code, stderr, stdout)
	}
}

// Without work to come the sheet is today's, and says that there is none.
func TestQueues_NothingToCome(t *testing.T) {
	var files []string
	for _, file := range []string{yardFile, yardPlanFile} {
		later := strings.Replace(content(t, file), "2026-11-26T15:00:00+00:00", "2026-12-01T15:00:00+00:00", 1)
		files = append(files, filepath.Join(t.TempDir(), "later.json"))
		if err := os.WriteFile(files[len(files)-1], []byte(later), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, stdout, _ := blankwright("queues", files[0], files[1])
	for _, want := range []string{"Tuesday 1 December 2026", "No task and no oven move"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("%q is not in:\n%s", want, stdout)
		}
	}
}

// Times are bare on the day, carry the weekday or the date on others, and
// their offset where the clock shows them for the second time.
func TestClock(t *testing.T) {
	instant := func(text string) shop.Instant {
		var i shop.Instant
		if err := i.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		return i
	}
	var day sheet.Day // 25 hours long
	day.Timezone = "Europe/Berlin"
	day.From, day.To = instant("2026-10-25T00:00:00+02:00"), instant("2026-10-26T00:00:00+01:00")
	day.Date = shop.DateOf(day.From.Time())
	tests := []struct{ at, want string }{
		{"2026-10-25T00:00:00+02:00", "00:00"},
		{"2026-10-25T02:30:00+02:00", "02:30"},
		{"2026-10-25T02:00:00+01:00", "02:00+01:00"},
		{"2026-10-25T02:59:00+01:00", "02:59+01:00"},
		{"2026-10-25T03:00:00+01:00", "03:00"},
		{"2026-10-26T00:00:00+01:00", "24:00"},
		{"2026-10-26T07:30:00+01:00", "Mon 07:30"},
		{"2026-10-19T07:30:00+02:00", "Mon 07:30"},
		{"2026-10-18T07:30:00+02:00", "18 Oct 07:30"},
		{"2026-11-01T07:30:00+01:00", "1 Nov 07:30"},
	}
	for _, test := range tests {
		if got := (clock{&day}).at(instant(test.at)); got != test.want {
			t.Errorf("%s shows as %s, want %s", test.at, got, test.want)
		}
	}
}

// Times that are skipped leave no doubt: nothing on such a day needs an offset.
func TestClock_Forward(t *testing.T) {
	var day sheet.Day
	day.Timezone = "Europe/Berlin"
	for text, to := range map[string]*shop.Instant{"2026-03-29T00:00:00+01:00": &day.From, "2026-03-30T00:00:00+02:00": &day.To} {
		if err := to.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	day.Date = shop.DateOf(day.From.Time())
	for minute := day.From.Minute; minute < day.To.Minute; minute += 30 {
		i := shop.InstantIn(minute, (&shop.Shop{Timezone: day.Timezone}).Zone())
		if got := (clock{&day}).at(i); got != i.Time().Format("15:04") {
			t.Errorf("%s shows as %s", i, got)
		}
	}
}
