package instance

import "blankwright/scheduler/shop"

// released compiles the work that every plan keeps, and takes from ovens what
// it occupies there. What it occupies elsewhere is the timetable's to take.
func (c *compiler) released() {
	if c.s.Released == nil {
		return
	}
	loads := map[string]int{}
	for i, load := range c.s.Released.Loads {
		loads[load.ID] = i
		fixed := FixedLoad{
			Oven: c.find("oven", load.Oven), In: c.tick(load.In), CureStart: c.tick(load.CureStart),
			CureMinutes: Tick(load.CureEnd.Minute - load.CureStart.Minute),
			Start:       c.tick(load.In), Out: c.tick(load.Out), Until: c.tick(load.Out),
		}
		for _, r := range load.Racks {
			fixed.Racks = append(fixed.Racks, c.find("rack", r.Rack))
		}
		oven := &c.in.Ovens[fixed.Oven]
		oven.Blocked = append(oven.Blocked, Span{fixed.In, fixed.Out})
		c.in.Released.Loads = append(c.in.Released.Loads, fixed)
	}
	for _, t := range c.s.Released.Tasks {
		c.in.Released.Tasks = append(c.in.Released.Tasks, FixedTask{
			Load: loads[t.Load], Section: c.in.sectionIndex[t.Section], Position: t.Position - 1, Pieces: t.Pieces,
			Stage: t.Stage, Prepreg: c.find("prepreg", t.Prepreg), Setup: t.Setup,
			Start: c.tick(t.Start), End: c.tick(t.End),
		})
	}
	c.rackSpans()
	c.trimmed()
}

// rackSpans widens the time that released loads take their racks to that from
// their first wrap task to their last pull task.
func (c *compiler) rackSpans() {
	loads := c.in.Released.Loads
	wraps, pulls := make([]bool, len(loads)), make([]bool, len(loads))
	for _, t := range c.in.Released.Tasks {
		load := &loads[t.Load]
		switch t.Stage {
		case shop.Wrap:
			if !wraps[t.Load] || t.Start < load.Start {
				load.Start, wraps[t.Load] = t.Start, true
			}
		case shop.Pull:
			if !pulls[t.Load] || t.End > load.Until {
				load.Until, pulls[t.Load] = t.End, true
			}
		}
	}
}

// trimmed notes the pieces of released trim tasks that end after now; what was
// trimmed before is in stock or incoming. No set is allocated past the horizon,
// though released work may end there.
func (c *compiler) trimmed() {
	for _, t := range c.in.Released.Tasks {
		if t.Stage == shop.Trim && t.End > 0 && t.End <= c.in.Horizon {
			section := &c.in.Sections[t.Section]
			section.Trimmed = append(section.Trimmed, Good{t.End, t.Pieces})
		}
	}
	for i := range c.in.Sections {
		inOrder(c.in.Sections[i].Trimmed)
	}
}
