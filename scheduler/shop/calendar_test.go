package shop_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
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

func clock(t testing.TB, text string) shop.Clock {
	t.Helper()
	var c shop.Clock
	if err := c.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return c
}

// daily returns a calendar with the same windows on every day.
func daily(t testing.TB, windows ...string) *shop.Calendar {
	t.Helper()
	var day []shop.Window
	for _, w := range windows {
		day = append(day, shop.Window{clock(t, w[:5]), clock(t, w[6:])})
	}
	return &shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}}
}

// shown writes spans as instants in a zone.
func shown(spans []shop.Span, z *time.Location) []string {
	var out []string
	for _, s := range spans {
		out = append(out, shop.InstantIn(s.From, z).String()+" "+shop.InstantIn(s.To, z).String())
	}
	return out
}

// A clock time means one instant on every day, also where clocks change. The
// changes are those of the IANA time zone database; the readings of times that
// come twice or never are RFC 5545, section 3.3.5.
func TestAt(t *testing.T) {
	for _, c := range []struct{ why, zone, day, clock, want string }{
		{"before a change", "Europe/Lisbon", "2026-03-29", "00:59", "2026-03-29T00:59:00Z"},
		{"skipped: the offset before", "Europe/Lisbon", "2026-03-29", "01:00", "2026-03-29T02:00:00+01:00"},
		{"skipped: the offset before", "Europe/Lisbon", "2026-03-29", "01:59", "2026-03-29T02:59:00+01:00"},
		{"after a change", "Europe/Lisbon", "2026-03-29", "02:00", "2026-03-29T02:00:00+01:00"},
		{"the day after a change", "Europe/Lisbon", "2026-03-30", "00:00", "2026-03-30T00:00:00+01:00"},
		{"the day's end", "Europe/Lisbon", "2026-03-28", "24:00", "2026-03-29T00:00:00Z"},
		{"twice: the first", "Europe/Lisbon", "2026-10-25", "01:00", "2026-10-25T01:00:00+01:00"},
		{"twice: the first", "Europe/Lisbon", "2026-10-25", "01:59", "2026-10-25T01:59:00+01:00"},
		{"once again", "Europe/Lisbon", "2026-10-25", "02:00", "2026-10-25T02:00:00Z"},
		{"half an hour skipped", "Australia/Lord_Howe", "2026-10-04", "02:15", "2026-10-04T02:45:00+11:00"},
		{"half an hour skipped", "Australia/Lord_Howe", "2026-10-04", "02:30", "2026-10-04T02:30:00+11:00"},
		{"half an hour twice", "Australia/Lord_Howe", "2026-04-05", "01:30", "2026-04-05T01:30:00+11:00"},
		{"half an hour twice, over", "Australia/Lord_Howe", "2026-04-05", "02:00", "2026-04-05T02:00:00+10:30"},
		{"an offset of half hours", "America/St_Johns", "2026-03-08", "02:30", "2026-03-08T03:30:00-02:30"},
		{"an offset of half hours, twice", "America/St_Johns", "2026-11-01", "01:30", "2026-11-01T01:30:00-02:30"},
		{"a midnight that is skipped", "America/Santiago", "2026-09-06", "00:00", "2026-09-06T01:00:00-03:00"},
		{"its day's end before", "America/Santiago", "2026-09-05", "24:00", "2026-09-06T01:00:00-03:00"},
		{"a midnight that comes twice", "America/Havana", "2026-11-01", "00:00", "2026-11-01T00:00:00-04:00"},
		{"a day that never was", "Pacific/Apia", "2011-12-30", "12:00", "2011-12-31T12:00:00+14:00"},
	} {
		z := zone(t, c.zone)
		if got := shop.InstantIn(shop.At(date(t, c.day), clock(t, c.clock), z), z).String(); got != c.want {
			t.Errorf("%s: %s %s in %s is %s, want %s", c.why, c.day, c.clock, c.zone, got, c.want)
		}
	}
}

// Days have the minutes that really pass in them.
func TestAt_DayLength(t *testing.T) {
	for _, c := range []struct {
		zone, day string
		want      int64
	}{
		{"Europe/Lisbon", "2026-03-29", 23 * 60},
		{"Europe/Lisbon", "2026-10-25", 25 * 60},
		{"Europe/Lisbon", "2026-10-26", 24 * 60},
		{"Australia/Lord_Howe", "2026-10-04", 23*60 + 30},
		{"Australia/Lord_Howe", "2026-04-05", 24*60 + 30},
		{"America/Santiago", "2026-09-06", 23 * 60},
		{"Pacific/Apia", "2011-12-30", 0}, // the island crossed the date line
	} {
		day, z := date(t, c.day), zone(t, c.zone)
		if got := shop.At(day, 1440, z) - shop.At(day, 0, z); got != c.want {
			t.Errorf("%s in %s has %d minutes, want %d", c.day, c.zone, got, c.want)
		}
	}
}

// Windows become spans of real time: in order, apart, adjoining ones as one.
func TestCalendar_Spans(t *testing.T) {
	for _, c := range []struct {
		why, zone, first, end string
		windows, want         []string
	}{
		{
			"a break stays", "Europe/Lisbon", "2026-11-26", "2026-11-27",
			[]string{"12:00-15:30", "07:00-11:30"},
			[]string{"2026-11-26T07:00:00Z 2026-11-26T11:30:00Z", "2026-11-26T12:00:00Z 2026-11-26T15:30:00Z"},
		},
		{
			"overlapping windows are one", "Europe/Lisbon", "2026-11-26", "2026-11-27",
			[]string{"07:00-12:00", "08:00-09:00", "11:00-13:00"},
			[]string{"2026-11-26T07:00:00Z 2026-11-26T13:00:00Z"},
		},
		{
			"a night is one", "Europe/Lisbon", "2026-11-26", "2026-11-28",
			[]string{"22:00-24:00", "00:00-06:00"},
			[]string{"2026-11-26T00:00:00Z 2026-11-26T06:00:00Z", "2026-11-26T22:00:00Z 2026-11-27T06:00:00Z", "2026-11-27T22:00:00Z 2026-11-28T00:00:00Z"},
		},
		{
			"a short night is one", "Europe/Lisbon", "2026-03-28", "2026-03-30",
			[]string{"22:00-24:00", "00:00-06:00"},
			[]string{"2026-03-28T00:00:00Z 2026-03-28T06:00:00Z", "2026-03-28T22:00:00Z 2026-03-29T06:00:00+01:00", "2026-03-29T22:00:00+01:00 2026-03-30T00:00:00+01:00"},
		},
		{
			"round the clock is one, whatever the clocks do", "Australia/Lord_Howe", "2026-04-04", "2026-04-07",
			[]string{"00:00-24:00"},
			[]string{"2026-04-04T00:00:00+11:00 2026-04-07T00:00:00+10:30"},
		},
		{
			"a midnight that is skipped parts nothing", "America/Santiago", "2026-09-05", "2026-09-07",
			[]string{"20:00-24:00", "00:00-02:00"},
			[]string{"2026-09-05T00:00:00-04:00 2026-09-05T02:00:00-04:00", "2026-09-05T20:00:00-04:00 2026-09-06T02:00:00-03:00", "2026-09-06T20:00:00-03:00 2026-09-07T00:00:00-03:00"},
		},
		{
			"a window that the change leaves empty is none", "Europe/Lisbon", "2026-03-29", "2026-03-30",
			[]string{"01:00-02:00", "01:30-02:00", "03:00-04:00"},
			[]string{"2026-03-29T03:00:00+01:00 2026-03-29T04:00:00+01:00"},
		},
		{
			"a window that begins in the skipped hour is short", "Europe/Lisbon", "2026-03-29", "2026-03-30",
			[]string{"01:30-03:00"},
			[]string{"2026-03-29T02:30:00+01:00 2026-03-29T03:00:00+01:00"},
		},
		{
			"a window over the hour that comes twice is long", "Europe/Lisbon", "2026-10-25", "2026-10-26",
			[]string{"01:30-02:30"},
			[]string{"2026-10-25T01:30:00+01:00 2026-10-25T02:30:00Z"},
		},
		{
			"a window within the hour that comes twice is its first coming", "America/St_Johns", "2026-11-01", "2026-11-02",
			[]string{"01:00-01:45"},
			[]string{"2026-11-01T01:00:00-02:30 2026-11-01T01:45:00-02:30"},
		},
		{"no days, no spans", "Europe/Lisbon", "2026-11-26", "2026-11-26", []string{"07:00-12:00"}, nil},
	} {
		z := zone(t, c.zone)
		got := daily(t, c.windows...).Spans(date(t, c.first), date(t, c.end), z)
		if diff := cmp.Diff(c.want, shown(got, z)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
	}
}

// An exception replaces its whole day: closed, or other windows.
func TestCalendar_Exceptions(t *testing.T) {
	z := zone(t, "Europe/Lisbon")
	c := daily(t, "07:00-15:00")
	c.Exceptions = map[shop.Date][]shop.Window{date(t, "2026-12-01"): nil, date(t, "2026-12-02"): {{0, 60}}}
	want := []string{"2026-11-30T07:00:00Z 2026-11-30T15:00:00Z", "2026-12-02T00:00:00Z 2026-12-02T01:00:00Z"}
	if diff := cmp.Diff(want, shown(c.Spans(date(t, "2026-11-30"), date(t, "2026-12-03"), z), z)); diff != "" {
		t.Errorf("spans (-want +got):\n%s", diff)
	}
}

// Each weekday has its own windows.
func TestCalendar_Day(t *testing.T) {
	of := func(c shop.Clock) []shop.Window { return []shop.Window{{c, c + 1}} }
	c := shop.Calendar{Weekly: shop.Weekly{Mon: of(1), Tue: of(2), Wed: of(3), Thu: of(4), Fri: of(5), Sat: of(6), Sun: of(7)}}
	monday := date(t, "2026-11-23") // by the calendar on any wall
	for i := range 14 {
		if got, want := c.Day(monday + shop.Date(i))[0][0], shop.Clock(i%7+1); got != want {
			t.Errorf("%s has window %v, want %v", monday+shop.Date(i), got, want)
		}
	}
}

// The ship date counts working days after the local date on which sets are
// done, and finds the first not before it where nothing is left to finish.
func TestShipDate(t *testing.T) {
	z := zone(t, "Europe/Lisbon")
	working := []shop.Window{{8 * 60, 16 * 60}}
	c := &shop.Calendar{
		Weekly:     shop.Weekly{Mon: working, Tue: working, Wed: working, Thu: working, Fri: working, Sun: []shop.Window{{60, 120}}},
		Exceptions: map[shop.Date][]shop.Window{date(t, "2026-12-01"): nil, date(t, "2026-12-05"): working},
	}
	for _, in := range []struct {
		why, done string
		days      int
		want      string
	}{
		{"the day itself", "2026-11-27", 0, "2026-11-27"},
		{"not on a Saturday, but on Sunday", "2026-11-28", 0, "2026-11-29"},
		{"the day does not count", "2026-11-26", 1, "2026-11-27"},
		{"over an exception that closes", "2026-11-30", 1, "2026-12-02"},
		{"on an exception that opens", "2026-12-04", 1, "2026-12-05"},
		{"several days", "2026-11-27", 4, "2026-12-03"},
		{"a Sunday whose only window the change empties", "2027-03-26", 1, "2027-03-29"},
	} {
		if got := shop.ShipDate(c, date(t, in.done), in.days, z).String(); got != in.want {
			t.Errorf("%s: done %s, %d days: %s, want %s", in.why, in.done, in.days, got, in.want)
		}
	}
}

// The horizon ends at local midnight, now's local day being the first.
func TestShop_Horizon(t *testing.T) {
	for _, c := range []struct {
		zone, now string
		days      int
		today     string
		horizon   string
	}{
		{"Europe/Lisbon", "2026-11-26T06:00:00Z", 1, "2026-11-26", "2026-11-27T00:00:00Z"},
		{"Europe/Lisbon", "2026-03-28T06:00:00Z", 2, "2026-03-28", "2026-03-30T00:00:00+01:00"},
		{"Pacific/Auckland", "2026-11-26T12:00:00Z", 1, "2026-11-27", "2026-11-28T00:00:00+13:00"},
		{"America/St_Johns", "2026-11-26T01:00:00Z", 7, "2026-11-25", "2026-12-02T00:00:00-03:30"},
		{"America/Santiago", "2026-09-05T12:00:00-04:00", 1, "2026-09-05", "2026-09-06T01:00:00-03:00"},
	} {
		s := shop.Shop{Timezone: c.zone, Now: instant(t, c.now), HorizonDays: c.days}
		today, horizon := s.Today().String(), shop.InstantIn(s.Horizon(), s.Zone()).String()
		if today != c.today || horizon != c.horizon {
			t.Errorf("now %s, %d days in %s: first day %s and end %s, want %s and %s", c.now, c.days, c.zone, today, horizon, c.today, c.horizon)
		}
	}
}

const minutes = 60

// spans draws spans within minutes, some of them empty or backwards.
var spans = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) shop.Span {
	end := rapid.Int64Range(0, minutes)
	return shop.Span{From: end.Draw(t, "from"), To: end.Draw(t, "to")}
}), 0, 12)

// held marks each minute that any of the spans holds.
func held(of []shop.Span) (set [minutes]bool) {
	for _, s := range of {
		for m := s.From; m < s.To; m++ {
			set[m] = true
		}
	}
	return set
}

func apart(of []shop.Span) bool {
	for i, s := range of {
		if s.To <= s.From || i > 0 && s.From <= of[i-1].To {
			return false
		}
	}
	return true
}

// Union holds the same minutes, in spans that are in order, not empty, and
// apart from each other.
func TestUnion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := spans.Draw(t, "spans")
		got := shop.Union(slices.Clone(in))
		if held(got) != held(in) || !apart(got) {
			t.Fatalf("%v became %v", in, got)
		}
	})
}

// Minus holds the minutes of the first spans and not of the second, and leaves
// its arguments as they are.
func TestMinus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, holes := shop.Union(spans.Draw(t, "spans")), spans.Draw(t, "holes")
		before, without := slices.Clone(in), held(holes)
		want := held(in)
		for m := range want {
			want[m] = want[m] && !without[m]
		}
		got := shop.Minus(in, holes)
		if held(got) != want || !apart(got) {
			t.Fatalf("%v without %v became %v", in, holes, got)
		}
		if !slices.Equal(before, in) {
			t.Fatalf("%v was changed to %v", before, in)
		}
	})
}
