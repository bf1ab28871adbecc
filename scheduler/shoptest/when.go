package shoptest

import (
	"time"

	"blankwright/scheduler/shop"
)

// Zones with and without clock changes, on both halves of the globe, with
// offsets of odd minutes and, at Lord Howe, a change of half an hour.
var zones = []string{
	"UTC", "Europe/Lisbon", "America/St_Johns", "America/New_York",
	"Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Auckland", "Atlantic/Faroe",
}

// firstDay is the earliest date on which a made shop may begin.
var firstDay = shop.DateOf(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))

// when draws the place, the horizon and the minute from which to plan.
func (m *maker) when() {
	m.s.Timezone = pick(m.dice, zones...)
	m.zone = m.s.Zone()
	m.today = firstDay + shop.Date(m.between(0, 1000))
	if m.maybe() {
		m.today = beforeClockChange(m.today, m.zone) - shop.Date(m.between(0, m.days-1))
	}
	clock := pick(m.dice, shop.Clock(6*60), 7*60, 15*60, 0, shop.Clock(m.between(0, 1439)))
	m.s.Now = m.at(shop.At(m.today, clock, m.zone))
	m.s.HorizonDays = m.days
}

// beforeClockChange returns the first date from day on that has no 24 hours;
// where there is none within a year, day itself.
func beforeClockChange(day shop.Date, zone *time.Location) shop.Date {
	for d := day; d < day+366; d++ {
		if shop.At(d+1, 0, zone)-shop.At(d, 0, zone) != 1440 {
			return d
		}
	}
	return day
}

// A rhythm is how a shop works through the day: when its stations are worked,
// and when somebody is on the site, which holds the former.
type rhythm struct{ floor, site []shop.Window }

var rhythms = []rhythm{
	{floor: hours(7, 0, 11, 30, 12, 0, 15, 30), site: hours(6, 30, 17, 0)},
	{floor: hours(6, 0, 14, 0, 14, 0, 22, 0), site: hours(5, 30, 22, 30)},
	{floor: hours(0, 0, 5, 0, 22, 0, 24, 0), site: hours(0, 0, 6, 0, 21, 0, 24, 0)},
	{floor: hours(8, 0, 12, 0, 11, 30, 16, 0), site: hours(7, 0, 18, 0)},
	{floor: hours(0, 0, 24, 0), site: hours(0, 0, 24, 0)},
}

// hours makes windows of hour, minute, hour, minute, and so on.
func hours(hm ...int) []shop.Window {
	var out []shop.Window
	for ; len(hm) > 0; hm = hm[4:] {
		out = append(out, shop.Window{shop.Clock(hm[0]*60 + hm[1]), shop.Clock(hm[2]*60 + hm[3])})
	}
	return out
}

func workdays(w []shop.Window) shop.Weekly {
	return shop.Weekly{Mon: w, Tue: w, Wed: w, Thu: w, Fri: w}
}

func everyDay(w []shop.Window) shop.Weekly {
	out := workdays(w)
	out.Sat, out.Sun = w, w
	return out
}

// addCalendars draws the rhythm and makes the calendars that the other fields
// name: floor, site, always and ship.
func (m *maker) addCalendars() {
	m.rhythm = pick(m.dice, rhythms...)
	floor, site := workdays(m.rhythm.floor), workdays(m.rhythm.site)
	if m.maybe() {
		floor.Sat, site.Sat = m.rhythm.floor, m.rhythm.site
	}
	if m.maybe() {
		site = everyDay(m.rhythm.site)
	}
	m.s.Calendars = map[string]shop.Calendar{
		"floor":  {Weekly: floor, Exceptions: m.exceptions()},
		"site":   {Weekly: site, Exceptions: m.exceptions()},
		"always": {Weekly: everyDay(hours(0, 0, 24, 0))},
		"ship":   {Weekly: workdays(hours(8, 0, 16, 0)), Exceptions: m.exceptions()},
	}
}

// exceptions draws closed and short days of the horizon, or none.
func (m *maker) exceptions() map[shop.Date][]shop.Window {
	if !m.maybe() {
		return nil
	}
	out := map[shop.Date][]shop.Window{}
	for range m.between(1, 2) {
		out[m.today+shop.Date(m.between(0, m.days))] = pick(m.dice, nil, hours(9, 0, 12, 0))
	}
	return out
}
