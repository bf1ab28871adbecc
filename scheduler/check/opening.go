package check

import "blankwright/scheduler/shop"

// beyondMinutes is how far past the horizon calendars are opened for a plan
// that goes there: what lies still further counts as closed.
const beyondMinutes = 366 * 24 * 60

// openCalendars expands every calendar over all days that the plan can touch.
func (c *checker) openCalendars() {
	first, last := c.now, c.horizon
	see := func(instants ...shop.Instant) {
		for _, i := range instants {
			last = max(last, min(i.Minute, c.horizon+beyondMinutes))
		}
	}
	for _, l := range c.plan.Loads {
		see(l.In, l.Out)
	}
	for _, t := range c.plan.Tasks {
		see(t.Start, t.End)
	}
	if c.shop.Released != nil {
		for _, l := range c.shop.Released.Loads {
			first = min(first, l.In.Minute)
		}
		for _, t := range c.shop.Released.Tasks {
			first = min(first, t.Start.Minute)
		}
	}
	c.hours = map[string]hours{}
	for id, calendar := range c.shop.Calendars {
		c.hours[id] = expand(&calendar, c.date(first)-1, c.date(last)+1, c.zone)
	}
	c.downtime = map[string][]span{}
	for _, d := range c.shop.Downtime {
		c.downtime[d.Resource] = append(c.downtime[d.Resource], span{d.From.Minute, d.To.Minute})
	}
}
