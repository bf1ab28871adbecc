package check

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"blankwright/scheduler/shop"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func date(t testing.TB, text string) shop.Date {
	t.Helper()
	var d shop.Date
	if err := d.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return d
}

// A clock time that comes twice is its first coming, and one that is skipped
// is read with the offset before the change. The first two rows are RFC 5545's
// own examples (section 3.3.5); that the other zones changed so is from memory.
func TestClock_AtChanges(t *testing.T) {
	for _, c := range []struct{ zone, day, clock, want string }{
		{"America/New_York", "2007-11-04", "01:30", "2007-11-04T01:30:00-04:00"},
		{"America/New_York", "2007-03-11", "02:30", "2007-03-11T03:30:00-04:00"},
		{"Europe/Berlin", "2026-10-25", "02:00", "2026-10-25T02:00:00+02:00"},
		{"Europe/Berlin", "2026-10-25", "03:00", "2026-10-25T03:00:00+01:00"},
		{"Europe/Berlin", "2026-03-29", "02:00", "2026-03-29T03:00:00+02:00"},
		{"Europe/Berlin", "2026-03-29", "01:59", "2026-03-29T01:59:00+01:00"},
		{"Europe/Berlin", "2026-03-28", "24:00", "2026-03-29T00:00:00+01:00"},
		{"America/Sao_Paulo", "2018-11-04", "00:00", "2018-11-04T01:00:00-02:00"},
		{"Pacific/Apia", "2011-12-30", "12:00", "2011-12-31T12:00:00+14:00"},
		{"Asia/Kathmandu", "2026-01-01", "00:00", "2026-01-01T00:00:00+05:45"},
	} {
		t.Run(c.zone+" "+c.day+" "+c.clock, func(t *testing.T) {
			var clockTime shop.Clock
			if err := clockTime.UnmarshalText([]byte(c.clock)); err != nil {
				t.Fatal(err)
			}
			z := zone(t, c.zone)
			got := time.Unix(clock(date(t, c.day), clockTime, z)*60, 0).In(z).Format(time.RFC3339)
			if got != c.want {
				t.Errorf("it is %s, want %s", got, c.want)
			}
		})
	}
}

// This package and the planner read clocks by different code, and agree.
func TestClock_AgreesWithShop(t *testing.T) {
	zones := []string{"Europe/Lisbon", "Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"}
	rapid.Check(t, func(t *rapid.T) {
		z, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(t, "zone"))
		if err != nil {
			t.Fatal(err)
		}
		day := shop.Date(rapid.IntRange(18000, 22000).Draw(t, "day"))
		at := shop.Clock(rapid.IntRange(0, 1440).Draw(t, "clock"))
		if got, want := clock(day, at, z), shop.At(day, at, z); got != want {
			t.Errorf("%s %s is minute %d here, %d for the planner", day, at, got, want)
		}
	})
}

// Windows join where they touch, empty ones are none, an exception replaces
// its day, and a day with a clock change has 23 or 25 hours.
func TestExpand(t *testing.T) {
	z := zone(t, "Europe/Berlin")
	night := []shop.Window{{22 * 60, 24 * 60}, {0, 6 * 60}}
	whole := []shop.Window{{0, 24 * 60}}
	sunday := func(windows ...shop.Window) shop.Calendar { return shop.Calendar{Weekly: shop.Weekly{Sun: windows}} }
	for _, c := range []struct {
		name        string
		calendar    shop.Calendar
		first, last string
		want        []int64 // the minutes of each window
	}{
		{"a night shift is one window", shop.Calendar{Weekly: shop.Weekly{Mon: night, Tue: night}}, "2026-10-19", "2026-10-20", []int64{360, 480, 120}},
		{"windows that overlap are one", sunday(shop.Window{60, 200}, shop.Window{100, 180}), "2026-10-18", "2026-10-18", []int64{140}},
		{"a day with an hour more", sunday(whole...), "2026-10-25", "2026-10-25", []int64{1500}},
		{"a day with an hour less", sunday(whole...), "2026-03-29", "2026-03-29", []int64{1380}},
		{"a window whose times are both skipped", sunday(shop.Window{120, 150}), "2026-03-29", "2026-03-29", []int64{30}},
		{"a window that the change leaves empty", sunday(shop.Window{150, 180}), "2026-03-29", "2026-03-29", nil},
		{"a window around the hour that comes twice", sunday(shop.Window{150, 180}), "2026-10-25", "2026-10-25", []int64{90}},
		{"an exception closes its day", shop.Calendar{Weekly: shop.Weekly{Sun: whole}, Exceptions: map[shop.Date][]shop.Window{date(t, "2026-10-18"): nil}}, "2026-10-18", "2026-10-18", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []int64
			for _, s := range expand(&c.calendar, date(t, c.first), date(t, c.last), z) {
				got = append(got, s.to-s.from)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("its windows have %v minutes, want %v", got, c.want)
			}
		})
	}
}

// What hours say of spans is what they say of each minute.
func TestHours_ByMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spans := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) span {
			from := rapid.Int64Range(0, 60).Draw(t, "from")
			return span{from, from + rapid.Int64Range(-2, 12).Draw(t, "minutes")}
		}), 0, 8)
		open, closed := spans.Draw(t, "open"), spans.Draw(t, "closed")
		h := join(slices.Clone(open)).without(closed)
		in := func(list []span, m int64) bool {
			return slices.ContainsFunc(list, func(s span) bool { return s.from <= m && m < s.to })
		}
		from := rapid.Int64Range(-5, 80).Draw(t, "of")
		of := span{from, from + rapid.Int64Range(1, 30).Draw(t, "long")}
		worked, all := int64(0), true
		for m := of.from; m < of.to; m++ {
			isOpen := in(open, m) && !in(closed, m)
			if h.open(m) != isOpen {
				t.Fatalf("minute %d is open: %t", m, h.open(m))
			}
			if all = all && isOpen; isOpen {
				worked++
			}
		}
		if got := h.worked(of); got != worked {
			t.Errorf("%d minutes of %v are worked, want %d", got, of, worked)
		}
		if h.holds(of) != all {
			t.Errorf("one window holds %v: %t, want %t", of, h.holds(of), all)
		}
		if end, ok := h.after(of.from, worked); worked > 0 && (!ok || end > of.to || h.worked(span{of.from, end}) != worked) {
			t.Errorf("%d minutes after %d have passed at %d (%t)", worked, of.from, end, ok)
		}
	})
}
