package instance_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A model is a calendar, minute by minute from now to the horizon.
type model []bool

// modelOf marks the minutes of a calendar's windows, less downtime.
func modelOf(s *shop.Shop, id string, holes ...shop.Downtime) model {
	zone := s.Zone()
	m := make(model, s.Horizon()-s.Now.Minute)
	mark := func(from, to int64, open bool) {
		first, end := max(from-s.Now.Minute, 0), min(to-s.Now.Minute, int64(len(m)))
		for t := first; t < end; t++ {
			m[t] = open
		}
	}
	calendar := s.Calendars[id]
	for day := s.Today() - 1; day <= s.Today()+shop.Date(s.HorizonDays); day++ {
		for _, w := range calendar.Day(day) {
			mark(shop.At(day, w[0], zone), shop.At(day, w[1], zone), true)
		}
	}
	for _, hole := range holes {
		mark(hole.From.Minute, hole.To.Minute, false)
	}
	return m
}

func (m model) open(t int) bool { return t >= 0 && t < len(m) && m[t] }

func (m model) next(t int) int {
	for ; t < len(m); t++ {
		if m.open(t) {
			return t
		}
	}
	return instance.Never
}

func (m model) worked(t int) (n int) {
	for i := range min(max(t, 0), len(m)) {
		if m[i] {
			n++
		}
	}
	return n
}

func (m model) ahead(t, minutes int) int {
	for ; minutes > 0; t++ {
		if t >= len(m) {
			return instance.Never
		}
		if m.open(t) {
			minutes--
		}
	}
	return t
}

func (m model) back(limit, minutes int) (start, end int, ok bool) {
	end = limit
	for end > 0 && !m.open(end-1) {
		end--
	}
	for start = end; start > 0 && minutes > 0; {
		if start--; m.open(start) {
			minutes--
		}
	}
	return start, end, minutes == 0
}

func (m model) holds(from, to int) bool {
	for t := from; t < to; t++ {
		if !m.open(t) {
			return false
		}
	}
	return true
}

// clockShop draws a shop of a few days around a clock change, of which some
// windows adjoin or overlap, with its cutting station down for a time.
func clockShop(t *rapid.T) *shop.Shop {
	s := shoptest.Bare()
	change := rapid.SampledFrom([]struct{ zone, day string }{
		{"Europe/Lisbon", "2027-03-28"},
		{"Europe/Lisbon", "2027-10-31"},
		{"Australia/Lord_Howe", "2027-04-04"},
		{"Asia/Kathmandu", "2027-05-01"},
	}).Draw(t, "clock change")
	s.Timezone, s.HorizonDays = change.zone, rapid.IntRange(1, 3).Draw(t, "days")
	today := date(change.day) - shop.Date(rapid.IntRange(0, 2).Draw(t, "days before"))
	s.Now = shop.InstantIn(shop.At(today, shop.Clock(rapid.IntRange(0, 1439).Draw(t, "now")), s.Zone()), s.Zone())
	clock := rapid.Custom(func(t *rapid.T) shop.Clock {
		return shop.Clock(rapid.OneOf(rapid.IntRange(0, 1440), rapid.SampledFrom([]int{0, 60, 120, 150, 180, 720, 1440})).Draw(t, "clock"))
	})
	window := rapid.Custom(func(t *rapid.T) shop.Window {
		from, to := clock.Draw(t, "from"), clock.Draw(t, "to")
		return shop.Window{min(from, to, 1439), max(from, to, min(from, to, 1439)+1)}
	})
	day := rapid.SliceOfN(window, 0, 3)
	weekly := shop.Weekly{Mon: day.Draw(t, "Mon"), Tue: day.Draw(t, "Tue"), Thu: day.Draw(t, "Thu"), Fri: day.Draw(t, "Fri")}
	weekly.Sat, weekly.Sun = day.Draw(t, "Sat"), day.Draw(t, "Sun")
	s.Calendars["drawn"] = shop.Calendar{Weekly: weekly, Exceptions: map[shop.Date][]shop.Window{today + 1: day.Draw(t, "exception")}}
	s.Stations.Cut.Calendar = "drawn"
	from := s.Now.Minute + int64(rapid.IntRange(-100, 3000).Draw(t, "down from"))
	s.Downtime = []shop.Downtime{{
		Resource: rapid.SampledFrom([]string{"cut", "cut/1"}).Draw(t, "down"),
		From:     shop.Instant{Minute: from}, To: shop.Instant{Minute: from + int64(rapid.IntRange(1, 2000).Draw(t, "minutes down"))},
	}}
	return shoptest.Accepted(s)
}

func date(text string) shop.Date {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return shop.DateOf(day)
}

// A calendar answers as counting minute by minute does, on days of 23, 23.5 and
// 25 hours too.
func TestCalendar_AsMinuteByMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := clockShop(t)
		in := instance.New(s)
		calendar, want := in.Stations[shop.Cut].Calendar, modelOf(s, "drawn")
		if rapid.Bool().Draw(t, "a position's") {
			calendar, want = in.Stations[shop.Cut].Positions[0], modelOf(s, "drawn", s.Downtime...)
		}
		if in.Horizon != len(want) {
			t.Fatalf("the horizon is %d, want %d", in.Horizon, len(want))
		}
		for range 8 {
			judgeCalendar(t, calendar, want)
		}
	})
}

// judgeCalendar asks one question of each kind at a drawn minute.
func judgeCalendar(t *rapid.T, c *instance.Calendar, m model) {
	at := rapid.IntRange(-90, len(m)+90).Draw(t, "minute")
	n := rapid.OneOf(rapid.IntRange(1, 30), rapid.IntRange(1, 2000)).Draw(t, "minutes")
	if got, want := c.Next(at), m.next(at); got != want {
		t.Errorf("next working minute from %d is %d, want %d", at, got, want)
	}
	if got, want := c.Worked(at), m.worked(at); got != want {
		t.Errorf("%d minutes are worked before %d, want %d", got, at, want)
	}
	if got, want := c.Between(at, at+n), m.worked(at+n)-m.worked(at); got != want {
		t.Errorf("%d minutes are worked between %d and %d, want %d", got, at, at+n, want)
	}
	if got, want := c.Ahead(at, n), m.ahead(at, n); got != want {
		t.Errorf("%d minutes from %d end at %d, want %d", n, at, got, want)
	}
	if got, want := c.Holds(at, at+n), m.holds(at, at+n); got != want {
		t.Errorf("one span holds %d to %d: %t, want %t", at, at+n, got, want)
	}
	start, end, ok := c.Back(at, n)
	wantStart, wantEnd, wantOK := m.back(min(at, len(m)), n)
	if ok != wantOK || ok && (start != wantStart || end != wantEnd) {
		t.Errorf("%d minutes back from %d are %d to %d, %t; want %d to %d, %t", n, at, start, end, ok, wantStart, wantEnd, wantOK)
	}
}

// Work of no minutes ends where it starts, even where nothing is open.
func TestCalendar_AheadOfNothing(t *testing.T) {
	s := shoptest.Bare()
	s.Calendars["shut"] = shop.Calendar{}
	s.Stations.Cut.Calendar = "shut"
	c := instance.New(shoptest.Accepted(s)).Stations[shop.Cut].Calendar
	if got := c.Ahead(77, 0); got != 77 {
		t.Errorf("no minutes from 77 end at %d", got)
	}
	if c.Next(0) != instance.Never || c.Worked(1000) != 0 || c.Holds(0, 1) {
		t.Error("a calendar without windows has working minutes")
	}
}

// A window of 7:00 to 15:30 holds what begins and ends with it, and not a minute
// more.
func TestCalendar_HoldsToTheMinute(t *testing.T) {
	s := shoptest.Bare()
	s.Calendars["floor"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{7 * 60, 15*60 + 30}}}}
	s.Stations.Cut.Calendar = "floor"
	c := instance.New(shoptest.Accepted(s)).Stations[shop.Cut].Calendar
	for _, one := range []struct {
		from, to instance.Tick
		want     bool
	}{{420, 930, true}, {419, 930, false}, {420, 931, false}, {420, 421, true}, {929, 930, true}, {930, 931, false}} {
		if got := c.Holds(one.from, one.to); got != one.want {
			t.Errorf("holds %d to %d: %t", one.from, one.to, got)
		}
	}
}

// Mandrels pulled before now are cleaned in the pull station's windows of then:
// of 120 minutes from Friday 15:30 in a week of 8 to 16, 30 are worked on
// Friday and 90 on Monday from 8:00 to 9:30; now is Monday 0:00.
func TestCleaning_ReachesBeforeNow(t *testing.T) {
	s := shoptest.Bare()
	day := []shop.Window{{8 * 60, 16 * 60}}
	s.Calendars["floor"] = shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day}}
	s.Stations.Pull.Calendar = "floor"
	in := instance.New(shoptest.Accepted(s))
	friday := -2*1440 - 8*60 - 30
	if got, want := in.Cleaning.Ahead(friday, 120), 9*60+30; got != want {
		t.Errorf("cleaned at %d, want %d", got, want)
	}
}

// A tick's day is its local date's, on days of every length.
func TestInstance_DayIsTheLocalDate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := clockShop(t)
		in := instance.New(s)
		at := rapid.IntRange(0, in.Horizon).Draw(t, "minute")
		want := shop.DateAt(s.Now.Minute+int64(at), s.Zone())
		if in.Date(at) != want || in.Day(at) != int(want-s.Today()) {
			t.Errorf("minute %d is on %s, day %d; want %s", at, in.Date(at), in.Day(at), want)
		}
		if midnight := in.Midnight(in.Day(at)); midnight > at || in.Day(at) > 0 && in.Day(midnight-1) != in.Day(at)-1 {
			t.Errorf("the day of minute %d begins at %d", at, midnight)
		}
		if i := in.Instant(at); i.Minute != s.Now.Minute+int64(at) || shop.DateOf(i.Time()) != want {
			t.Errorf("minute %d reads %s", at, i)
		}
	})
}
