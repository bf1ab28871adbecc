package shop_test

import (
	"testing"

	"blankwright/scheduler/shop"
)

func date(t testing.TB, text string) shop.Date {
	t.Helper()
	var d shop.Date
	if err := d.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return d
}

func instant(t testing.TB, text string) shop.Instant {
	t.Helper()
	var i shop.Instant
	if err := i.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return i
}

// An instant keeps its minute and its offset; one minute may be written with
// several offsets.
func TestInstant(t *testing.T) {
	for _, c := range []struct {
		text   string
		minute int64
		offset int
		same   string
	}{
		{"1970-01-01T00:00:00Z", 0, 0, "1970-01-01T00:00:00Z"},
		{"1970-01-01T00:00:00+00:00", 0, 0, "1970-01-01T00:00:00Z"},
		{"1970-01-01T00:00:00.000Z", 0, 0, "1970-01-01T00:00:00Z"},
		{"1970-01-01T05:45:00+05:45", 0, 345, "1970-01-01T05:45:00+05:45"},
		{"1969-12-31T20:29:00-03:30", -1, -210, "1969-12-31T20:29:00-03:30"},
		{"1970-01-01T23:59:00+23:59", 0, 1439, "1970-01-01T23:59:00+23:59"},
		{"2024-02-29T12:00:00Z", 28486800, 0, "2024-02-29T12:00:00Z"}, // 19782 days and 720 minutes, counted by hand
	} {
		got := instant(t, c.text)
		if want := (shop.Instant{Minute: c.minute, Offset: c.offset}); got != want || got.String() != c.same {
			t.Errorf("%s reads as %+v, written %s; want %+v, written %s", c.text, got, got, want, c.same)
		}
	}
}

// What RFC 3339 (section 5.6) does not allow, or is not on a whole minute, is
// no instant.
func TestInstant_Refuses(t *testing.T) {
	for _, text := range []string{
		"", "now", "2026-11-26", "2026-11-26T06:00Z", "2026-11-26T06:00:00", "2026-11-26 06:00:00Z", "2026-11-26t06:00:00z",
		"2026-11-26T06:00:01Z", "2026-11-26T06:00:00.5Z", "2026-11-26T06:00:00,0Z", "2026-11-26T06:00:60Z", "2026-11-26T24:00:00Z", "2026-11-26T06:60:00Z",
		"2026-02-29T06:00:00Z", "2026-13-01T06:00:00Z", "26-11-26T06:00:00Z", "12026-11-26T06:00:00Z",
		"2026-11-26T06:00:00+24:00", "2026-11-26T06:00:00+23:60", "2026-11-26T06:00:00+0100", "2026-11-26T06:00:00+1:00",
		"0000-12-31T00:00:00Z", "0001-01-01T00:00:00Z", "9999-12-31T00:01:00Z", "9999-12-31T23:59:00-12:00", " 2026-11-26T06:00:00Z", "2026-11-26T06:00:00Z\n",
	} {
		if err := new(shop.Instant).UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}

// The first and the last instant can be written in every zone's offset.
func TestInstant_Ends(t *testing.T) {
	for _, text := range []string{"0001-01-02T00:00:00Z", "9999-12-31T00:00:00Z"} {
		for _, offset := range []int{-1439, -720, 0, 840, 1439} {
			i := instant(t, text)
			i.Offset = offset
			if again := instant(t, i.String()); again != i {
				t.Errorf("%s with offset %d is written %s", text, offset, i)
			}
		}
	}
}

// A date is the days since 1970 in the calendar that we use now, continued
// backwards, and written as it is read. The numbers are from memory.
func TestDate(t *testing.T) {
	for _, c := range []struct {
		text string
		days shop.Date
	}{{"1970-01-01", 0}, {"1969-12-31", -1}, {"2000-03-01", 11017}, {"0001-01-01", -719162}, {"9999-12-31", 2932896}} {
		if got := date(t, c.text); got != c.days || got.String() != c.text {
			t.Errorf("%s reads as %d, written %s; want %d", c.text, got, got, c.days)
		}
	}
	for _, text := range []string{"", "2026-2-3", "2026-02-30", "0000-01-01", "20260203", "2026-02-03T00:00:00Z", "12026-02-03"} {
		if err := new(shop.Date).UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}

// A clock runs from 00:00 to 24:00, in two digits each.
func TestClock(t *testing.T) {
	for text, want := range map[string]shop.Clock{"00:00": 0, "07:05": 425, "23:59": 1439, "24:00": 1440} {
		var got shop.Clock
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want || got.String() != text {
			t.Errorf("%s reads as %d, written %s (%v); want %d", text, got, got, err, want)
		}
	}
	for _, text := range []string{"", "7:00", "24:01", "12:60", "25:00", "07:00:00", "ab:cd", "-1:00", "07:00\n"} {
		if err := new(shop.Clock).UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}

// Each stage is written by its name and read from it.
func TestStage(t *testing.T) {
	for i, name := range []string{"cut", "tack", "roll", "wrap", "pull", "strip", "trim"} {
		var got shop.Stage
		if err := got.UnmarshalText([]byte(name)); err != nil || got != shop.Stages()[i] || got.String() != name {
			t.Errorf("%s reads as %v (%v)", name, got, err)
		}
	}
	for _, name := range []string{"", "Cut", "hang", "oven"} {
		if err := new(shop.Stage).UnmarshalText([]byte(name)); err == nil {
			t.Errorf("%q was read", name)
		}
	}
	if got := shop.Stage(9).String(); got != "stage 9" {
		t.Errorf("a stage that is none is called %q", got)
	}
}
