package check

import "blankwright/scheduler/shop"

// checkOpenTime judges R10: how long cut flags and green pieces lie.
func (c *checker) checkOpenTime() {
	green := int64(c.shop.Policy.MaxGreenMinutes)
	for _, t := range c.tasks {
		if t.load.released {
			continue
		}
		cure := t.load.CureStart.Minute
		switch t.Stage {
		case shop.Cut:
			if lie, most := cure-t.Start.Minute, c.known.prepregs[t.Prepreg].MaxOpenMinutes; lie > int64(most) {
				c.breach("R10", t.where(), "%d minutes from cutting to the cure of load %s, prepreg %s may lie %d", lie, t.Load, t.Prepreg, most)
			}
		case shop.Wrap:
			if lie := cure - t.End.Minute; lie > green {
				c.breach("R10", t.where(), "%d minutes from wrapping to the cure of load %s, at most %d", lie, t.Load, green)
			}
		}
	}
}

// checkHorizon judges R14: nothing ends beyond the horizon.
func (c *checker) checkHorizon() {
	for _, l := range c.loads {
		if !l.released && l.Out.Minute > c.horizon {
			c.breach("R14", l.where, "out %s is beyond the horizon %s", c.at(l.Out.Minute), c.at(c.horizon))
		}
	}
	for _, t := range c.tasks {
		if !t.load.released && t.End.Minute > c.horizon {
			c.breach("R14", t.where(), "end %s is beyond the horizon %s", c.at(t.End.Minute), c.at(c.horizon))
		}
	}
}
