package web

import (
	"time"

	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
)

// A Frame is what every page has around its own content.
type Frame struct {
	Title string // of the page
	Here  string // the address of the tag on the bar that is the current one
	Path  string // of the request, to lead back to
	Shop  string // its name
	Zone  *time.Location
	View  View
	Who   string // who is signed in, or nobody
	Tags  []Tag  // on the bar, those that this caller may open
	Said  string // what the last form has done
	Wrong string // what a form as a whole was refused for
	Open  bool   // a demonstration: nobody signs in or out
	// Refresh is after how many seconds a browser without script looks again.
	Refresh int
}

// A Tag is one entry on the bar at the top of each page.
type Tag struct{ Name, Address string }

// Units is how the reader wants measures written.
func (f *Frame) Units() unit.System { return f.View.Units }

// zone is UTC where no zone is known yet.
func (f *Frame) zone() *time.Location {
	if f.Zone == nil {
		return time.UTC
	}
	return f.Zone
}

// Clock writes an instant's local time, as 15:04.
func (f *Frame) Clock(i shop.Instant) string {
	return shop.InstantIn(i.Minute, f.zone()).Time().Format("15:04")
}

// When writes an instant with its local day, as Fri 27 Nov 15:04.
func (f *Frame) When(i shop.Instant) string {
	return shop.InstantIn(i.Minute, f.zone()).Time().Format("Mon 2 Jan 15:04")
}

// Span writes from when to when, on a page of one day: by the clock alone where
// both are of that day.
func (f *Frame) Span(day shop.Date, from, to shop.Instant) string {
	write := func(i shop.Instant) string {
		if shop.DateAt(i.Minute, f.zone()) == day {
			return f.Clock(i)
		}
		return f.When(i)
	}
	return write(from) + "–" + write(to)
}

// Stamp writes a moment with its local day and year.
func (f *Frame) Stamp(t time.Time) string { return t.In(f.zone()).Format("Mon 2 Jan 2006 15:04") }

// Machine writes an instant for a time element.
func (f *Frame) Machine(i shop.Instant) string { return shop.InstantIn(i.Minute, f.zone()).String() }

// Day writes a date in full, as Friday 27 November 2026.
func (f *Frame) Day(d shop.Date) string { return dateTime(d).Format("Monday 2 January 2006") }

// Date writes a date for a table, as Fri 27 Nov 2026.
func (f *Frame) Date(d shop.Date) string { return dateTime(d).Format("Mon 2 Jan 2006") }

func dateTime(d shop.Date) time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Money writes an amount of the shop's money.
func (f *Frame) Money(x float64) string { return unit.Fixed(x, 2) }

// Percent writes a share.
func (f *Frame) Percent(x float64) string { return unit.Fixed(x*100, 1) + "\u00a0%" }

// Self is the frame itself, for parts of a page that take it.
func (f *Frame) Self() *Frame { return f }
