package check

import "blankwright/scheduler/shop"

// checkCrews judges R11: no minute needs more people of a crew than are there.
func (c *checker) checkCrews() {
	for i := range c.shop.Crews {
		crew := &c.shop.Crews[i]
		u := c.crewUsage(crew)
		for _, e := range u.excesses(c.now) {
			c.breach("R11", e.where, "at %s %d people of crew %s are needed, %s", c.at(e.at), e.other, crew.ID, e.left())
		}
	}
}

func (c *checker) crewUsage(crew *shop.Crew) *usage {
	var u usage
	for _, shift := range crew.Shifts {
		for _, window := range c.hours[shift.Calendar] {
			u.supply(window, shift.People)
		}
	}
	for _, t := range c.tasks {
		if t.station.Crew != crew.ID {
			continue
		}
		for _, worked := range t.hours.within(t.taken()) {
			u.take(worked, t.station.People, t.load.released, t.where())
		}
	}
	for _, l := range c.loads {
		if l.oven.Crew == crew.ID {
			u.take(l.loading(), l.oven.People, l.released, l.where)
			u.take(l.unloading(), l.oven.People, l.released, l.where)
		}
	}
	return &u
}
