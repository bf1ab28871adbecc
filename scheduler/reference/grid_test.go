package reference_test

import (
	"fmt"
	"math"

	"blankwright/scheduler/shop"
)

// A grid is a shop's time from now on in slots of an hour. What happens at a slot
// happens at its beginning.
type grid struct {
	s     *shop.Shop
	slots int // to the horizon
	end   int // slots that there are: more, where the horizon is no limit
}

// hour is a slot's minutes.
const hour = 60

// A clock says of each slot in which window it lies: counted from 1, 0 for none.
type clock []int

func newGrid(s *shop.Shop, beyond int) *grid {
	g := &grid{s: s}
	g.slots = g.whole(float64(s.Horizon() - s.Now.Minute))
	g.end = g.slots + beyond
	return g
}

// whole returns minutes in slots. A small shop that is not on the grid is a mistake.
func (g *grid) whole(minutes float64) int {
	n := math.Round(minutes / hour)
	if math.Abs(n*hour-minutes) > 1e-6 {
		panic(fmt.Sprintf("%s: %g minutes are no whole hours", g.s.Name, minutes))
	}
	return int(n)
}

// slot returns an instant's slot, below 0 for the past.
func (g *grid) slot(at shop.Instant) int { return g.whole(float64(at.Minute - g.s.Now.Minute)) }

// since returns an instant's slot, 0 for the past and for none.
func (g *grid) since(at *shop.Instant) int {
	if at == nil {
		return 0
	}
	return max(0, g.slot(*at))
}

func (g *grid) instant(slot int) shop.Instant {
	return shop.InstantIn(g.s.Now.Minute+int64(slot*hour), g.s.Zone())
}

// day returns the local day of a slot, today being 0.
func (g *grid) day(slot int) int {
	return int(shop.DateAt(g.instant(slot).Minute, g.s.Zone()) - g.s.Today())
}

// days counts the local days on which something can be done.
func (g *grid) days() int { return g.day(g.end) + 1 }

// last returns the last slot of a day.
func (g *grid) last(day int) int {
	slot := g.end
	for g.day(slot) > day {
		slot--
	}
	return slot
}

// always returns a clock without any pause.
func (g *grid) always() clock {
	c := make(clock, g.end)
	for t := range c {
		c[t] = 1
	}
	return c
}

// clock returns a calendar's clock, without the downtime of some resources.
func (g *grid) clock(calendar string, resources ...string) clock {
	c := make(clock, g.end)
	cal := g.s.Calendars[calendar]
	first := g.s.Today()
	for i, span := range cal.Spans(first-1, first+shop.Date(g.days()), g.s.Zone()) {
		c.fill(g, span.From, span.To, i+1)
	}
	for _, d := range g.s.Downtime {
		for _, r := range resources {
			if r == d.Resource {
				c.fill(g, d.From.Minute, d.To.Minute, 0)
			}
		}
	}
	return c
}

// fill sets the slots between two minutes, as far as they are on the clock.
func (c clock) fill(g *grid, from, to int64, window int) {
	for t := max(0, g.whole(float64(from-g.s.Now.Minute))); t < min(len(c), g.whole(float64(to-g.s.Now.Minute))); t++ {
		c[t] = window
	}
}

// after returns the slot at which so many open slots from a start on are over; ok is
// false where that is beyond the last.
func (c clock) after(start, work int) (end int, ok bool) {
	for end = start; work > 0 && end < len(c); end++ {
		if c[end] > 0 {
			work--
		}
	}
	return end, work == 0
}

// within reports whether a span lies in one window.
func (c clock) within(from, to int) bool {
	for t := from; t < to; t++ {
		if t >= len(c) || c[t] == 0 || c[t] != c[from] {
			return false
		}
	}
	return true
}
