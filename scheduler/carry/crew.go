package carry

import "blankwright/scheduler/shop"

// A crew counts its people minute by minute from now up to the diary's limit.
// Beyond, and in the past, nobody is counted.
type crew struct {
	from int64
	free []int32 // by minute after from; below 0 where more are at work than there are
}

func newCrew(d *diary, c *shop.Crew) *crew {
	now := d.s.Now.Minute
	out := &crew{from: now, free: make([]int32, max(0, d.limit-now))}
	for _, shift := range c.Shifts {
		out.add(d.calendar(shift.Calendar, nil).within(now, d.limit), int32(shift.People))
	}
	return out
}

// add changes the number of people that are free in some spans.
func (c *crew) add(spans []shop.Span, people int32) {
	for _, s := range spans {
		for m := max(0, s.From-c.from); m < min(int64(len(c.free)), s.To-c.from); m++ {
			c.free[m] += people
		}
	}
}

// lacks returns the last minute of some spans in which fewer people are free.
func (c *crew) lacks(spans []shop.Span, people int) (minute int64, lacking bool) {
	for i := len(spans) - 1; i >= 0; i-- {
		for m := min(int64(len(c.free)), spans[i].To-c.from) - 1; m >= max(0, spans[i].From-c.from); m-- {
			if c.free[m] < int32(people) {
				return c.from + m, true
			}
		}
	}
	return 0, false
}
