// Package ternpoint makes the shop of the demonstration: Tern Point, an
// invented yard on a cold coast that rolls two-piece surf, one-piece boat and
// four-piece fly blanks, in the middle of its season.
//
// Everything in it is invented: the yard, its models, its dealers and their
// orders. Lengths, times and temperatures are of the trade's usual size
// (common practice, no source) and stand for no maker's.
//
// It knows the shop file's types and calendars and how long a cure takes, and
// no clock: the same date makes the same shop.
package ternpoint

import (
	"time"

	"blankwright/scheduler/shop"
)

const (
	name        = "Tern Point (invented)"
	timezone    = "America/St_Johns"
	clock       = shop.Clock(15 * 60) // of today, from which to plan
	horizonDays = 49                  // the order book's six weeks, and one to finish
)

// Shop returns Tern Point at three in the afternoon of today: six weeks of
// orders ahead, one load curing, another just out of the oven.
func Shop(today shop.Date) *shop.Shop {
	y := newYard(today)
	s := &shop.Shop{
		Format: shop.Format, Name: name, Timezone: timezone, Now: y.at(today, clock), HorizonDays: horizonDays,
		Calendars: y.calendars(), Policy: policy(), Crews: crews(), Stations: stations(),
		Resins: resins(), Tapes: tapes(), Prepregs: prepregs(), Supply: y.supply(), Profiles: profiles(),
		Ovens: ovens(), Racks: y.racks(), MandrelTypes: mandrelTypes(), Mandrels: y.mandrels(),
		Products: products(), Demand: y.demand(), Downtime: y.downtime(),
	}
	underway(s)
	return s
}

// Begun returns the last date of which three in the afternoon has come: what
// its Shop says of the floor has happened, and the floor can go on from there.
func Begun(now time.Time) shop.Date {
	y := newYard(shop.DateOf(now.In((&shop.Shop{Timezone: timezone}).Zone())))
	if y.at(y.today, clock).Time().After(now) {
		return y.today - 1
	}
	return y.today
}

// A yard is Tern Point on one date.
type yard struct {
	today shop.Date
	zone  *time.Location
}

func newYard(today shop.Date) yard {
	return yard{today, (&shop.Shop{Timezone: timezone}).Zone()}
}

// at returns a local time of a date as the file states it.
func (y yard) at(day shop.Date, clock shop.Clock) shop.Instant {
	return shop.InstantIn(shop.At(day, clock, y.zone), y.zone)
}

// in returns a local time of the date so many days from today.
func (y yard) in(days int, clock shop.Clock) shop.Instant {
	return y.at(y.today+shop.Date(days), clock)
}

// next returns the first date of a weekday that is at least so many days from
// today.
func (y yard) next(weekday time.Weekday, days int) shop.Date {
	day := y.today + shop.Date(days)
	for day.Weekday() != weekday {
		day++
	}
	return day
}

// workday returns the first of Monday to Friday at least so many days from
// today.
func (y yard) workday(days int) shop.Date {
	day := y.today + shop.Date(days)
	for day.Weekday() == time.Saturday || day.Weekday() == time.Sunday {
		day++
	}
	return day
}

func policy() shop.Policy {
	return shop.Policy{
		AmbientC: 19, GapMM: 5, MaxGreenMinutes: 3 * 1440, TransferPieces: 6, ShippingCalendar: "shipping",
		LateCost: 5, HoldCost: 0.04, LabourCost: 0.6, UnplannedDays: 14,
	}
}
