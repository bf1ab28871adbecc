package main

import (
	"time"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// A clock prints instants as one day's sheet shows them: the bare time on the
// day itself, with the weekday or the date on others.
type clock struct{ day *sheet.Day }

func (c clock) at(i shop.Instant) string {
	t := i.Time()
	switch days := int(shop.DateOf(t) - c.day.Date); {
	case i.Minute == c.day.To.Minute:
		return "24:00"
	case days == 0 && c.again(t):
		return t.Format("15:04-07:00")
	case days == 0:
		return t.Format("15:04")
	case -7 < days && days < 7:
		return t.Format("Mon 15:04")
	}
	return t.Format("2 Jan 15:04")
}

// span prints from when to when.
func (c clock) span(from, to shop.Instant) string { return c.at(from) + "–" + c.at(to) }

// again reports whether a time shows on the day's clocks for the second time,
// because they were put back in between.
func (c clock) again(t time.Time) bool {
	_, before := c.day.From.Time().Zone()
	_, now := t.Zone()
	back := time.Duration(before-now) * time.Second
	if back <= 0 {
		return false
	}
	first := c.day.From.Time().Add(t.Sub(c.day.From.Time()) - back)
	zone, err := time.LoadLocation(c.day.Timezone)
	if err != nil {
		return false
	}
	_, then := first.In(zone).Zone()
	return then == before
}
