package runs_test

import (
	"testing"
	"time"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
)

// Of a year of quarters of an hour, in zones whose clocks change at, before and after the tick's
// time, each working day has one tick, and other days have none.
func TestDays_OnceADay(t *testing.T) {
	tests := []struct {
		zone string
		at   shop.Clock
	}{
		{"America/St_Johns", 15 * 60},
		{"America/St_Johns", 2*60 + 30}, // skipped on 14 March
		{"America/St_Johns", 1*60 + 30}, // twice on 7 November
		{"Europe/Berlin", 2*60 + 30},    // skipped on 28 March, twice on 31 October
		{"Australia/Lord_Howe", 2*60 - 15},
		{"America/Santiago", 0}, // a midnight that is skipped
		{"UTC", 23*60 + 59},
		{"UTC", 24 * 60},
	}
	from, to := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, test := range tests {
		zone, err := time.LoadLocation(test.zone)
		if err != nil {
			t.Fatal(err)
		}
		d := runs.Days{Calendar: weekdays(), Zone: zone}
		last, _ := d.LastDue(test.at, from)
		ticks := map[shop.Date]int{}
		for now := from; now.Before(to); now = now.Add(15 * time.Minute) {
			if due, ok := d.LastDue(test.at, now); ok && due.After(last) {
				day := shop.DateOf(due.In(zone))
				if test.at == 24*60 {
					day--
				}
				ticks[day]++
				last = due
			}
		}
		for day := shop.DateOf(from) + 2; day < shop.DateOf(to)-2; day++ {
			want := 1
			if day.Weekday() == time.Saturday || day.Weekday() == time.Sunday || day.String() == "2027-12-24" {
				want = 0
			}
			if ticks[day] != want {
				t.Errorf("%s at %s: %d ticks on %s, want %d", test.zone, test.at, ticks[day], day, want)
			}
		}
	}
}

// weekdays opens on Monday to Friday, but not on Christmas Eve.
func weekdays() shop.Calendar {
	w := everyDay(shop.Window{8 * 60, 17 * 60})
	w.Sat, w.Sun = nil, nil
	return shop.Calendar{Weekly: w, Exceptions: map[shop.Date][]shop.Window{christmasEve: {}}}
}

var christmasEve = shop.DateOf(time.Date(2027, 12, 24, 0, 0, 0, 0, time.UTC))

// The tick before an instant, the one after it, and the end of the work that each
// would release, over a weekend and a holiday.
func TestDays(t *testing.T) {
	d := runs.Days{Calendar: weekdays(), Zone: time.UTC}
	tests := []struct{ now, last, next, end string }{
		{"2027-03-01T14:59:59Z", "2027-02-26T15:00:00Z", "2027-03-01T15:00:00Z", "2027-03-04T00:00:00Z"},
		{"2027-03-01T15:00:00Z", "2027-03-01T15:00:00Z", "2027-03-02T15:00:00Z", "2027-03-04T00:00:00Z"},
		{"2027-03-05T16:00:00Z", "2027-03-05T15:00:00Z", "2027-03-08T15:00:00Z", "2027-03-10T00:00:00Z"},
		{"2027-12-25T16:00:00Z", "2027-12-23T15:00:00Z", "2027-12-27T15:00:00Z", "2027-12-29T00:00:00Z"},
	}
	for _, test := range tests {
		now := instant(t, test.now)
		last, ok := d.LastDue(15*60, now)
		next, also := d.NextDue(15*60, now)
		if !ok || !also || !last.Equal(instant(t, test.last)) || !next.Equal(instant(t, test.next)) {
			t.Errorf("at %s: last %s, next %s, want %s and %s", test.now, last, next, test.last, test.next)
		}
		if end := d.EndOfWork(2, now); !end.Equal(instant(t, test.end)) {
			t.Errorf("at %s: two days' work ends %s, want %s", test.now, end, test.end)
		}
	}
}

// A calendar that never opens has no ticks, and work that ends all the same.
func TestDays_Never(t *testing.T) {
	d := runs.Days{Zone: time.UTC}
	now := instant(t, "2027-03-01T15:00:00Z")
	if due, ok := d.LastDue(0, now); ok {
		t.Errorf("a tick was due %s", due)
	}
	if due, ok := d.NextDue(0, now); ok {
		t.Errorf("a tick is due %s", due)
	}
	if end := d.EndOfWork(1, now); !end.After(now) {
		t.Errorf("work ends %s", end)
	}
}

func instant(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}
