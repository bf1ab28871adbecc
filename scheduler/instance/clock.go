package instance

import "blankwright/scheduler/shop"

// A Tick is an instant in minutes since the shop's now. Spans of time are
// Ticks too.
type Tick = int

// Never is a Tick past every horizon.
const Never Tick = 1 << 40

// A Span is the Ticks from From up to To, which it does not include.
type Span struct{ From, To Tick }

// A Calendar is open time up to the horizon: spans in order, apart from each
// other, and before each of them the working minutes since the first.
type Calendar struct {
	Spans  []Span
	before []Tick
	byDay  []int32 // by whole day since now: the first span that ends in it or later
}

// newCalendar takes spans in order, in minutes since the epoch, and keeps what
// of them lies between first and horizon.
func newCalendar(spans []shop.Span, now, first, horizon int64) *Calendar {
	c := &Calendar{}
	worked := 0
	for _, s := range spans {
		from, to := max(s.From, first), min(s.To, horizon)
		if from >= to {
			continue
		}
		c.Spans = append(c.Spans, Span{Tick(from - now), Tick(to - now)})
		c.before = append(c.before, worked)
		worked += Tick(to - from)
	}
	c.indexDays()
	return c
}

// Always returns the calendar that is open from now to a horizon.
func Always(horizon Tick) *Calendar {
	c := &Calendar{Spans: []Span{{0, horizon}}, before: []Tick{0}}
	c.indexDays()
	return c
}

// indexDays makes At quick: it is asked for at every turn.
func (c *Calendar) indexDays() {
	span := 0
	for day := 0; span < len(c.Spans); day++ {
		for span < len(c.Spans) && c.Spans[span].To <= day*1440 {
			span++
		}
		c.byDay = append(c.byDay, int32(span))
	}
}

// At returns the index of the first span that ends after t; len(Spans) where
// none does.
func (c *Calendar) At(t Tick) int {
	i, day := 0, t/1440
	if day >= len(c.byDay) {
		return len(c.Spans)
	}
	if day > 0 {
		i = int(c.byDay[day])
	}
	for i < len(c.Spans) && c.Spans[i].To <= t {
		i++
	}
	return i
}

// Holds reports whether one span holds all of from up to to.
func (c *Calendar) Holds(from, to Tick) bool {
	i := c.At(from)
	return i < len(c.Spans) && c.Spans[i].From <= from && to <= c.Spans[i].To
}

// Worked returns the working minutes before t.
func (c *Calendar) Worked(t Tick) Tick {
	i := c.At(t)
	if i == len(c.Spans) {
		if i == 0 {
			return 0
		}
		last := c.Spans[i-1]
		return c.before[i-1] + last.To - last.From
	}
	return c.before[i] + max(0, t-c.Spans[i].From)
}

// Next returns the first working minute at or after t, Never where there is
// none.
func (c *Calendar) Next(t Tick) Tick {
	i := c.At(t)
	if i == len(c.Spans) {
		return Never
	}
	return max(t, c.Spans[i].From)
}

// Ahead returns the end of the last of so many working minutes from start on,
// Never where the calendar ends before. No minutes end at start itself.
func (c *Calendar) Ahead(start Tick, minutes Tick) Tick {
	if minutes <= 0 {
		return start
	}
	for i := c.At(start); i < len(c.Spans); i++ {
		from := max(start, c.Spans[i].From)
		if minutes <= c.Spans[i].To-from {
			return from + minutes
		}
		minutes -= c.Spans[i].To - from
	}
	return Never
}

// Back returns the latest start and end, end at most limit, between which lie
// exactly so many working minutes, at least 1, the first of them at start and
// the last just before end. ok is false where the calendar holds fewer.
func (c *Calendar) Back(limit Tick, minutes Tick) (start, end Tick, ok bool) {
	i := c.At(limit)
	if i == len(c.Spans) || c.Spans[i].From >= limit {
		i--
	}
	if i < 0 {
		return 0, 0, false
	}
	end = min(limit, c.Spans[i].To)
	for to := end; i >= 0; i-- {
		to = min(to, c.Spans[i].To)
		if minutes <= to-c.Spans[i].From {
			return to - minutes, end, true
		}
		minutes -= to - c.Spans[i].From
	}
	return 0, 0, false
}

// Between returns the working minutes between two instants.
func (c *Calendar) Between(from, to Tick) Tick {
	i := c.At(from)
	if i < len(c.Spans) && to <= c.Spans[i].To {
		return max(0, to-max(from, c.Spans[i].From))
	}
	return c.Worked(to) - c.Worked(from)
}
