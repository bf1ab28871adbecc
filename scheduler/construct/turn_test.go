package construct

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// In a shop that wraps from 8 to 12 and from 13 to 17, loads are meant for 130 minutes
// past 8, for the end of the day or so much before it, and else for the next day.
func TestMeant(t *testing.T) {
	s := shoptest.Bare()
	day := []shop.Window{{8 * 60, 12 * 60}, {13 * 60, 17 * 60}}
	s.Calendars["wrap"] = shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}}
	s.Stations.Wrap.Calendar = "wrap"
	shoptest.AddLine(s, "P", 3, 5, 1)
	in := instance.New(shoptest.Accepted(s))
	clock := func(day, hour, minute int) line.Tick { return in.Midnight(day) + hour*60 + minute }
	cases := []struct {
		name             string
		morning, evening line.Tick
		at, want         line.Tick
	}{
		{"before the morning's", 130, 20, clock(1, 7, 0), clock(1, 10, 10)},
		{"just then", 130, 20, clock(1, 10, 10), clock(1, 10, 10)},
		{"past the morning's", 130, 20, clock(1, 10, 11), clock(1, 16, 40)},
		{"past the evening's", 130, 20, clock(1, 16, 41), clock(2, 10, 10)},
		{"over the break", 300, 0, clock(1, 9, 0), clock(1, 14, 0)},
		{"at the very end", 130, 0, clock(1, 16, 59), clock(1, 17, 0)},
		{"no morning left in so short a day", 600, 0, clock(1, 9, 0), clock(1, 17, 0)},
	}
	for _, c := range cases {
		b := newBuilder(answer.New(in), Rule{Morning: c.morning, Evening: c.evening})
		if got := b.meant(c.at); got != c.want {
			t.Errorf("%s: meant for %v, want %v", c.name, in.Instant(got), in.Instant(c.want))
		}
	}
}

// By a rule with such times, no load goes into an oven before one of them; by a rule
// without, the first goes in as soon as it can.
func TestBuild_LoadsGoInTogether(t *testing.T) {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 3, 0, 1)
	in := instance.New(shoptest.Accepted(s))
	rule := Rules[0]
	soon := Build(in, rule, nil).Loads[0].In
	rule.Morning = 300
	late := Build(in, rule, nil).Loads[0].In
	if want := in.Stations[shop.Wrap].Calendar.Ahead(0, 300); soon >= want || late < want {
		t.Errorf("the load goes in at %d and %d, want before and from %d on", soon, late, want)
	}
}
