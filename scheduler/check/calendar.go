package check

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"blankwright/scheduler/shop"
)

// A span is the minutes from its first up to, not including, its second.
type span struct{ from, to int64 }

// overlaps reports whether both spans hold some minute.
func (s span) overlaps(o span) bool { return max(s.from, o.from) < min(s.to, o.to) }

// hours is the open time of something: its windows in order, each apart from
// the next.
type hours []span

// clock returns the minute at which a zone's clocks show a time of a day: the
// first such minute, or for a skipped time the one that the offset before the
// change gives. It walks through the zone's periods of equal offset.
func clock(day shop.Date, time24 shop.Clock, zone *time.Location) int64 {
	wall := int64(day)*86400 + int64(time24)*60
	t := time.Unix(wall-2*86400, 0).In(zone)
	_, seconds := t.Zone()
	for {
		reading := wall - int64(seconds)
		_, end := t.ZoneBounds()
		if end.IsZero() || reading < end.Unix() {
			return floorMinute(reading)
		}
		_, next := end.Zone()
		if wall-int64(next) < end.Unix() {
			return floorMinute(reading)
		}
		t, seconds = end, next
	}
}

func floorMinute(unix int64) int64 {
	minute := unix / 60
	if unix%60 < 0 {
		minute--
	}
	return minute
}

// windows returns the clock times between which a calendar is open on a day.
func windows(c *shop.Calendar, day shop.Date) []shop.Window {
	if w, ok := c.Exceptions[day]; ok {
		return w
	}
	switch day.Weekday() {
	case time.Monday:
		return c.Weekly.Mon
	case time.Tuesday:
		return c.Weekly.Tue
	case time.Wednesday:
		return c.Weekly.Wed
	case time.Thursday:
		return c.Weekly.Thu
	case time.Friday:
		return c.Weekly.Fri
	case time.Saturday:
		return c.Weekly.Sat
	default:
		return c.Weekly.Sun
	}
}

// expand returns a calendar's open time on the days from first to last.
func expand(c *shop.Calendar, first, last shop.Date, zone *time.Location) hours {
	var open []span
	for day := first; day <= last; day++ {
		for _, w := range windows(c, day) {
			open = append(open, span{clock(day, w[0], zone), clock(day, w[1], zone)})
		}
	}
	return join(open)
}

// workingDay reports whether a calendar opens at all on a day.
func workingDay(c *shop.Calendar, day shop.Date, zone *time.Location) bool {
	return len(expand(c, day, day, zone)) > 0
}

// join returns spans as hours: empty ones dropped, those that touch as one.
func join(spans []span) hours {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var h hours
	for _, s := range spans {
		switch n := len(h); {
		case s.from >= s.to:
		case n > 0 && s.from <= h[n-1].to:
			h[n-1].to = max(h[n-1].to, s.to)
		default:
			h = append(h, s)
		}
	}
	return h
}

// without returns the hours less some spans.
func (h hours) without(closed []span) hours {
	for _, gap := range join(closed) {
		var left hours
		for _, s := range h {
			if !s.overlaps(gap) {
				left = append(left, s)
				continue
			}
			if s.from < gap.from {
				left = append(left, span{s.from, gap.from})
			}
			if gap.to < s.to {
				left = append(left, span{gap.to, s.to})
			}
		}
		h = left
	}
	return h
}

// from returns the windows that end after a minute.
func (h hours) from(minute int64) hours {
	return h[sort.Search(len(h), func(i int) bool { return h[i].to > minute }):]
}

// open reports whether some window holds a minute.
func (h hours) open(minute int64) bool { return h.holds(span{minute, minute + 1}) }

// holds reports whether one window holds all of a span.
func (h hours) holds(s span) bool {
	rest := h.from(s.from)
	return len(rest) > 0 && rest[0].from <= s.from && s.to <= rest[0].to
}

// within returns the open parts of a span.
func (h hours) within(s span) hours {
	var parts hours
	for _, w := range h.from(s.from) {
		if w.from >= s.to {
			break
		}
		parts = append(parts, span{max(w.from, s.from), min(w.to, s.to)})
	}
	return parts
}

// worked returns how many open minutes a span holds.
func (h hours) worked(s span) int64 {
	var total int64
	for _, part := range h.within(s) {
		total += part.to - part.from
	}
	return total
}

// after returns the first instant by which so many open minutes have passed
// since a minute; false where the hours end before that.
func (h hours) after(minute, open int64) (int64, bool) {
	if open <= 0 {
		return minute, true
	}
	for _, w := range h.from(minute) {
		begin := max(w.from, minute)
		if open <= w.to-begin {
			return begin + open, true
		}
		open -= w.to - begin
	}
	return 0, false
}
