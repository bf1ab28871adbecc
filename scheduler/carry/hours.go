package carry

import (
	"fmt"
	"math"
	"sort"
	"time"

	"blankwright/scheduler/shop"
)

// hours are spans of open time, in order and apart from each other. The last
// one never ends: beyond what is looked at, everything counts as open, so that
// all work has a place in the end.
type hours []shop.Span

// A diary makes hours out of the shop's calendars and downtime.
type diary struct {
	s    *shop.Shop
	zone *time.Location
	// The dates of which calendars are read, and the minute from which all is open.
	first, last shop.Date
	limit       int64
}

// beyond is how many days past the horizon are still looked at, and farthest
// how many from now at most.
const (
	beyond   = 60
	farthest = 500
)

// newDiary returns a diary that knows the time from some minute on.
func newDiary(s *shop.Shop, from int64) *diary {
	zone := s.Zone()
	d := &diary{s: s, zone: zone, first: shop.DateAt(from, zone) - 1}
	d.last = s.Today() + shop.Date(min(s.HorizonDays+beyond, farthest))
	d.limit = shop.At(d.last, 0, zone)
	return d
}

// calendar returns the open time of a calendar, less the holes.
func (d *diary) calendar(id string, holes []shop.Span) hours {
	c := d.s.Calendars[id]
	spans := shop.Minus(c.Spans(d.first, d.last, d.zone), holes)
	return shop.Union(append(spans, shop.Span{From: d.limit, To: math.MaxInt64}))
}

// position returns the working time of a position of a station.
func (d *diary) position(stage shop.Stage, number int) hours {
	holes := d.down(stage.String())
	holes = append(holes, d.down(fmt.Sprintf("%s/%d", stage, number))...)
	return d.calendar(d.s.Stations.At(stage).Calendar, holes)
}

// down returns the downtime of a resource up to the limit.
func (d *diary) down(resource string) []shop.Span {
	var out []shop.Span
	for _, row := range d.s.Downtime {
		if row.Resource == resource {
			out = append(out, shop.Span{From: row.From.Minute, To: min(row.To.Minute, d.limit)})
		}
	}
	return out
}

// at returns the index of the span that holds a minute, or of the next one.
func (h hours) at(minute int64) int {
	return sort.Search(len(h), func(i int) bool { return h[i].To > minute })
}

// next returns the first open minute from a minute on.
func (h hours) next(minute int64) int64 { return max(minute, h[h.at(minute)].From) }

// after returns when so many open minutes from a minute on have passed: at once
// where there are none to pass.
func (h hours) after(minute, need int64) int64 {
	if need == 0 {
		return minute
	}
	i := h.at(minute)
	for h[i].To-max(minute, h[i].From) < need {
		need -= h[i].To - max(minute, h[i].From)
		i++
	}
	return max(minute, h[i].From) + need
}

// fits returns the first minute, not before one, from which so many minutes lie
// in one span.
func (h hours) fits(minute, need int64) int64 {
	for i := h.at(minute); ; i++ {
		if from := max(minute, h[i].From); h[i].To-from >= need {
			return from
		}
	}
}

// within returns the open time between two minutes.
func (h hours) within(from, to int64) []shop.Span {
	var out []shop.Span
	for i := h.at(from); i < len(h) && h[i].From < to; i++ {
		out = append(out, shop.Span{From: max(from, h[i].From), To: min(to, h[i].To)})
	}
	return out
}
