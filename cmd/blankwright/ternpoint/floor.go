package ternpoint

import (
	"time"

	"blankwright/scheduler/shop"
)

// hours makes windows of hour, minute, hour, minute, and so on.
func hours(hm ...int) []shop.Window {
	var out []shop.Window
	for ; len(hm) > 0; hm = hm[4:] {
		out = append(out, shop.Window{shop.Clock(hm[0]*60 + hm[1]), shop.Clock(hm[2]*60 + hm[3])})
	}
	return out
}

// calendars has the yard closed on its regatta day, a Monday a fortnight off,
// and the floor closed from noon for stocktaking, on a Friday in the fourth
// week. The ovens are watched every day, also at the weekend.
func (y yard) calendars() map[string]shop.Calendar {
	regatta, stocktaking := y.next(time.Monday, 12), y.next(time.Friday, 22)
	day := hours(7, 0, 11, 30, 12, 0, 15, 30)
	evening := hours(15, 30, 18, 0, 18, 30, 21, 30)
	both := append(append([]shop.Window{}, day...), evening...)
	watch := hours(6, 0, 22, 0)
	short := hours(7, 0, 11, 30)
	return map[string]shop.Calendar{
		"day": {
			Weekly:     shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day},
			Exceptions: map[shop.Date][]shop.Window{regatta: nil, stocktaking: short},
		},
		"evening": {
			Weekly:     shop.Weekly{Mon: evening, Tue: evening, Wed: evening, Thu: evening},
			Exceptions: map[shop.Date][]shop.Window{regatta: nil},
		},
		"floor": {
			Weekly:     shop.Weekly{Mon: both, Tue: both, Wed: both, Thu: both, Fri: day},
			Exceptions: map[shop.Date][]shop.Window{regatta: nil, stocktaking: short},
		},
		"watch": {
			Weekly:     shop.Weekly{Mon: watch, Tue: watch, Wed: watch, Thu: watch, Fri: watch, Sat: watch, Sun: watch},
			Exceptions: map[shop.Date][]shop.Window{regatta: nil},
		},
		"shipping": {
			Weekly:     shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day},
			Exceptions: map[shop.Date][]shop.Window{regatta: nil},
		},
	}
}

func crews() []shop.Crew {
	return []shop.Crew{
		{ID: "benches", Shifts: []shop.Shift{{Calendar: "day", People: 5}, {Calendar: "evening", People: 4}}},
		{ID: "finishers", Shifts: []shop.Shift{{Calendar: "day", People: 3}, {Calendar: "evening", People: 3}}},
		{ID: "oven watch", Shifts: []shop.Shift{{Calendar: "watch", People: 1}}},
	}
}

func stations() shop.Stations {
	bench := func(positions, setup int, last ...*string) shop.Station {
		return shop.Station{Positions: positions, Calendar: "floor", SetupMinutes: setup, Crew: "benches", People: 1, LastSetup: last}
	}
	finish := shop.Station{Positions: 1, Calendar: "floor", Crew: "finishers", People: 1}
	return shop.Stations{
		Cut:  bench(1, 7, new(standard)),
		Tack: bench(3, 3, new("ST-183"), new("BO-168"), nil),
		Roll: bench(2, 0),
		Wrap: bench(2, 10, new(filmHigh), new(filmLow)),
		Pull: finish, Strip: finish, Trim: finish,
	}
}

func ovens() []shop.Oven {
	return []shop.Oven{
		{
			ID: "skerry", Bays: 2, HeightMM: 2700, MaxKg: 420, Profiles: []string{shared, quick, cool},
			Calendar: "watch", Unattended: true, LoadMinutes: 12, UnloadMinutes: 10, LagMinutesPerKg: 0.09,
			RunCost: 16, HourCost: 9, Crew: "oven watch", People: 1,
		},
		{
			ID: "holm", Bays: 3, HeightMM: 1950, MaxKg: 360, Profiles: []string{shared, quick},
			Calendar: "watch", Unattended: true, LoadMinutes: 10, UnloadMinutes: 8, LagMinutesPerKg: 0.07,
			RunCost: 12, HourCost: 7.5, Crew: "oven watch", People: 1,
		},
	}
}

// racks has one short rack at the welder's until the day after tomorrow.
func (y yard) racks() []shop.Rack {
	level := func(clear float64, pegs int) shop.Level { return shop.Level{ClearMM: clear, Pegs: pegs, PitchMM: 23} }
	return []shop.Rack{
		{ID: "tall", Count: 4, TareKg: 48, MaxKg: 140, Setups: []shop.Setup{
			{ID: "one bar", OuterHeightMM: 2600, Levels: []shop.Level{level(2320, 36)}},
			{ID: "two bars", OuterHeightMM: 2600, Levels: []shop.Level{level(1330, 36), level(910, 36)}},
			{ID: "three bars", OuterHeightMM: 2600, Levels: []shop.Level{level(850, 36), level(770, 36), level(650, 36)}},
		}},
		{ID: "short", Count: 6, TareKg: 31, MaxKg: 95, Setups: []shop.Setup{
			{ID: "one bar", OuterHeightMM: 1880, Levels: []shop.Level{level(1620, 30)}},
			{ID: "two bars", OuterHeightMM: 1880, Levels: []shop.Level{level(850, 30), level(770, 30)}},
		}, BusyUntil: []shop.Instant{y.in(2, 12*60)}},
	}
}

func (y yard) downtime() []shop.Downtime {
	service, spindle := y.next(time.Wednesday, 8), y.next(time.Tuesday, 3)
	return []shop.Downtime{
		{Resource: "oven:holm", From: y.at(service, 8*60), To: y.at(service+1, 12*60), Why: "yearly test of the interlocks"},
		{Resource: "wrap/2", From: y.at(spindle, 7*60), To: y.at(spindle, 18*60), Why: "spindle bearing"},
	}
}
