package alone_test

import (
	"testing"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A piece that comes out of the oven rests, and is pulled, stripped and trimmed in
// the hours of those stations: out at 14:30 with half an hour's rest, it is pulled
// for 10 minutes from 15:00, stripped for 20, and trimmed up to 07:00 the next
// day, for trimming has 10 of its 40 minutes left until 15:40. The last to be done
// on the day is out at 14:00; one out an hour before the horizon is not done.
func TestFinished(t *testing.T) {
	s := shoptest.Bare()
	window := []shop.Window{{6*60 + 30, 15*60 + 40}}
	s.Calendars["day"] = shop.Calendar{Weekly: shop.Weekly{Mon: window, Tue: window}}
	s.Stations.Trim.Calendar = "day"
	s.Profiles[0].RestMinutes = 30
	s.Products[0].Sections[0].Minutes = shop.Minutes{Pull: 10, Strip: 20, Trim: 40}
	in := instance.New(shoptest.Accepted(s))
	for _, c := range []struct{ out, want instance.Tick }{
		{14*60 + 30, 1440 + 7*60}, {14 * 60, 15*60 + 40}, {14*60 + 1, 1440 + 6*60 + 31}, {in.Horizon - 60, instance.Never},
	} {
		if got := alone.Finished(in, 0, 0, c.out); got != c.want {
			t.Errorf("out at %d, done at %d, want %d", c.out, got, c.want)
		}
	}
}
