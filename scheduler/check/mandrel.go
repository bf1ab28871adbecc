package check

import "blankwright/scheduler/shop"

// checkMandrels judges R9: no more mandrels of a type out than there are.
func (c *checker) checkMandrels() {
	for i := range c.shop.MandrelTypes {
		mandrel := &c.shop.MandrelTypes[i]
		u := c.mandrelUsage(mandrel)
		for _, e := range u.excesses(c.now) {
			c.breach("R9", e.where, "at %s %d mandrels %s are out, %s", c.at(e.at), e.other, mandrel.ID, e.left())
		}
	}
}

func (c *checker) mandrelUsage(mandrel *shop.MandrelType) *usage {
	var u usage
	for _, m := range c.shop.Mandrels {
		if m.Type != mandrel.ID || m.State != shop.Ready {
			continue
		}
		ready := c.now
		if m.ReadyAt != nil {
			ready = max(ready, m.ReadyAt.Minute)
		}
		u.supply(span{ready, forever}, 1)
	}
	for _, t := range c.tasks {
		if t.section.Mandrel != mandrel.ID {
			continue
		}
		switch t.Stage {
		case shop.Tack:
			u.take(span{t.Start.Minute, forever}, t.Pieces, t.load.released, t.where())
		case shop.Pull:
			if back, ok := c.hours[t.station.Calendar].after(t.End.Minute, int64(mandrel.TurnaroundMinutes)); ok {
				u.take(span{back, forever}, -t.Pieces, t.load.released, "")
			}
		}
	}
	return &u
}
