package line

import "blankwright/scheduler/instance"

// A crew is how many of its people are free in each minute up to the horizon.
type crew struct {
	free []int16
	size Tick // the most that are ever there at once, 1 at least
}

// most is the largest number of people that a crew counts.
const most = 1 << 14

// newCrew counts the people of a crew's shifts. More than most are as good as
// any number.
func newCrew(c *instance.Crew, horizon Tick) *crew {
	out := &crew{free: make([]int16, horizon), size: 1}
	for _, shift := range c.Shifts {
		for _, s := range shift.Calendar.Spans {
			for t := s.From; t < s.To; t++ {
				n := min(int(out.free[t])+shift.People, most)
				out.free[t] = int16(n)
				out.size = max(out.size, n)
			}
		}
	}
	return out
}

// lack returns the first minute between from and to in which fewer than n
// people are free.
func (c *crew) lack(from, to Tick, n int) (Tick, bool) {
	if n > most {
		return from, true
	}
	if to > len(c.free) {
		return to, true
	}
	for t := from; t < to; t++ {
		if int(c.free[t]) < n {
			return t, true
		}
	}
	return 0, false
}

// lackLast returns where the last stretch between from and to begins in which
// fewer than n people are free; the stretch may begin before from.
func (c *crew) lackLast(from, to Tick, n int) (Tick, bool) {
	if n > most {
		return 0, from < to
	}
	for t := min(to, len(c.free)) - 1; t >= from; t-- {
		if int(c.free[t]) < n {
			for t > 0 && int(c.free[t-1]) < n {
				t--
			}
			return t, true
		}
	}
	return 0, false
}

// back returns the first minute after t in which n people are free.
func (c *crew) back(t Tick, n int) Tick {
	for t++; t < len(c.free) && int(c.free[t]) < n; t++ {
	}
	return t
}

// take lowers what is free between from and to by n; a negative n gives back.
func (c *crew) take(from, to Tick, n int) {
	for t := from; t < to; t++ {
		c.free[t] -= int16(n)
	}
}

// reserve takes released work's share: what it leaves is never less than
// nothing.
func (c *crew) reserve(held []int) {
	for t, n := range held {
		c.free[t] = int16(max(0, int(c.free[t])-n))
	}
}

// behind returns by how many minutes work of so many minutes of one person
// exceeds what the crew has free between two instants, if all of it shared the
// rest. It never tells of more than is lacking, also where nobody is free then.
func (c *crew) behind(minutes, from, to Tick) Tick {
	there := Tick(0)
	for t := min(to, len(c.free)) - 1; t >= from; t-- {
		if there += Tick(c.free[t]); there >= minutes {
			return 0
		}
	}
	return (minutes - there + c.size - 1) / c.size
}
