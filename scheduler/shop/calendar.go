package shop

import (
	"sort"
	"sync"
	"time"
	_ "time/tzdata" // a shop's zone is known on a machine without any
)

// A Span is the minutes from From up to To, which it does not include.
type Span struct{ From, To int64 }

// At returns the minute at which a local clock shows clock on day. A time that
// comes twice means its first coming; one that is skipped is read with the
// offset before the change (RFC 5545, 3.3.5).
func At(day Date, clock Clock, zone *time.Location) int64 {
	wall := int64(day)*86400 + int64(clock)*60
	first := wall - offset(wall-86400, zone)
	now := offset(first, zone)
	if wall-first == now {
		return floorDiv(first, 60)
	}
	if second := wall - now; wall-second == offset(second, zone) {
		return floorDiv(second, 60)
	}
	return floorDiv(first, 60)
}

func offset(unix int64, zone *time.Location) int64 {
	_, seconds := time.Unix(unix, 0).In(zone).Zone()
	return int64(seconds)
}

// Day returns the windows of one date, as the file states them.
func (c *Calendar) Day(day Date) []Window {
	if windows, ok := c.Exceptions[day]; ok {
		return windows
	}
	return c.Weekly.days()[day.Weekday()]
}

// weekdays are the names of days in files, as days orders them.
var weekdays = [7]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// days returns the windows by time.Weekday.
func (w *Weekly) days() [7][]Window {
	return [7][]Window{w.Sun, w.Mon, w.Tue, w.Wed, w.Thu, w.Fri, w.Sat}
}

// opens reports whether any weekday has a window.
func (w *Weekly) opens() bool {
	for _, windows := range w.days() {
		if len(windows) > 0 {
			return true
		}
	}
	return false
}

// Open reports whether a date has any window: whether it is a working day.
func (c *Calendar) Open(day Date, zone *time.Location) bool {
	for _, w := range c.Day(day) {
		if At(day, w[0], zone) < At(day, w[1], zone) {
			return true
		}
	}
	return false
}

// Spans returns the calendar's open time on the dates from first up to, not
// including, end: in order, apart from each other, adjoining windows as one.
func (c *Calendar) Spans(first, end Date, zone *time.Location) []Span {
	var spans []Span
	for day := first; day < end; day++ {
		for _, w := range c.Day(day) {
			spans = append(spans, Span{At(day, w[0], zone), At(day, w[1], zone)})
		}
	}
	return Union(spans)
}

// Union returns the minutes that any of the spans holds, in order, apart from
// each other. It may reuse its argument.
func Union(spans []Span) []Span {
	sort.Slice(spans, func(i, j int) bool { return spans[i].From < spans[j].From })
	out := spans[:0]
	for _, s := range spans {
		if s.To <= s.From {
			continue
		}
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return out
}

// Minus returns the minutes of spans that none of holes holds.
func Minus(spans, holes []Span) []Span {
	out := append([]Span(nil), spans...)
	for _, hole := range holes {
		var next []Span
		for _, s := range out {
			if hole.To <= hole.From || hole.To <= s.From || s.To <= hole.From {
				next = append(next, s)
				continue
			}
			if s.From < hole.From {
				next = append(next, Span{s.From, hole.From})
			}
			if hole.To < s.To {
				next = append(next, Span{hole.To, s.To})
			}
		}
		out = next
	}
	return out
}

// Zone returns the shop's time zone. A shop that was read has a valid one.
func (s *Shop) Zone() *time.Location {
	if zone, ok := zones.Load(s.Timezone); ok {
		return zone.(*time.Location)
	}
	zone, err := time.LoadLocation(s.Timezone)
	if err != nil {
		panic("shop: unchecked time zone " + s.Timezone)
	}
	zones.Store(s.Timezone, zone)
	return zone
}

// zones are those that were asked for: finding one's rules takes a while.
var zones sync.Map // of its name, *time.Location

// Today returns the local date of the shop's now, the horizon's first day.
func (s *Shop) Today() Date { return DateAt(s.Now.Minute, s.Zone()) }

// Horizon returns the local midnight at which the horizon ends.
func (s *Shop) Horizon() int64 { return At(s.Today()+Date(s.HorizonDays), 0, s.Zone()) }

// ShipDate returns the finishDays-th working day of a calendar after a date;
// with 0, the first working day not before it. The calendar opens on some
// weekday, which a shop that was read assures for its shipping calendar.
func ShipDate(c *Calendar, done Date, finishDays int, zone *time.Location) Date {
	day := done
	if finishDays == 0 {
		for !c.Open(day, zone) {
			day++
		}
		return day
	}
	for left := finishDays; left > 0; {
		day++
		if c.Open(day, zone) {
			left--
		}
	}
	return day
}
