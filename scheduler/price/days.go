package price

import (
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A day is one on which sets can become good: its number, counted from today,
// and the last instant at which what ends counts as done on it. The last of a
// list may stand for all numbers from its own up to until.
type day struct {
	number, until int
	last          instance.Tick
}

// mostDays is how many days are told apart.
const mostDays = 300

// daysOf returns the days on which sets can become good: those on which a trim
// task can end, on which pieces come in or are trimmed by released work, and
// today, for what is in stock.
func daysOf(in *instance.Instance) (days []day) {
	end := in.Day(in.Horizon) + 1
	some := make([]bool, end)
	some[0] = true
	for _, p := range in.Stations[shop.Trim].Positions {
		for _, s := range p.Spans {
			// A task that ends with the window at midnight counts on the day that
			// then begins.
			for n := in.Day(s.From); n <= in.Day(s.To); n++ {
				some[n] = true
			}
		}
	}
	for i := range in.Sections {
		for _, g := range slices.Concat(in.Sections[i].Incoming, in.Sections[i].Trimmed) {
			some[in.Day(g.At)] = true
		}
	}
	for n := range some {
		if some[n] {
			days = append(days, day{n, n + 1, lastOf(in, n)})
		}
	}
	if len(days) > mostDays {
		days = days[:mostDays]
		days[mostDays-1].until, days[mostDays-1].last = end, in.Horizon
	}
	return days
}

// lastOf returns the last instant of a day.
func lastOf(in *instance.Instance, number int) instance.Tick {
	if number >= in.Day(in.Horizon) {
		return in.Horizon
	}
	return in.Midnight(number+1) - 1
}
