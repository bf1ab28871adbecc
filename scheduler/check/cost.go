package check

import (
	"math"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// How far a stated cost or gap may be from the counted one: a cost also by
// costShare of itself.
const (
	costTolerance = 0.01
	costShare     = 1e-6
	gapTolerance  = 0.0001
)

// A shipment is sets of one line that ship, or count as shipping, on one day.
type shipment struct {
	line      *shop.Line
	sets      int
	day       shop.Date
	allocated bool
	withheld  bool // allocated, but its complete order is short: it counts as not
}

// shipments returns where every set that is asked for goes, line by line.
func (c *checker) shipments() []shipment {
	given := map[string][]*plan.Allocation{}
	for i := range c.plan.Allocations {
		if a := &c.plan.Allocations[i]; c.possible(a) {
			given[a.Line] = append(given[a.Line], a)
		}
	}
	var all []shipment
	for i := range c.shop.Demand {
		all = append(all, c.lineShipments(&c.shop.Demand[i], given[c.shop.Demand[i].ID])...)
	}
	c.shipTogether(all)
	return all
}

// lineShipments returns a line's shipments as if it belonged to no order.
func (c *checker) lineShipments(line *shop.Line, given []*plan.Allocation) []shipment {
	var list []shipment
	left := line.Quantity
	for _, a := range given {
		list = append(list, shipment{line: line, sets: a.Sets, day: c.shipDate(line, a.DoneAt.Minute), allocated: true})
		left -= a.Sets
	}
	if left > 0 {
		list = append(list, shipment{line: line, sets: left, day: c.unplannedDate(line)})
	}
	return list
}

// shipTogether settles the lines of orders that ship complete: all on the
// latest of their dates, or none while any set of theirs is not allocated.
func (c *checker) shipTogether(all []shipment) {
	short := map[string]bool{}
	latest := map[string]shop.Date{}
	for _, s := range all {
		if !together(s.line) {
			continue
		}
		if day, ok := latest[s.line.Order]; !ok || s.day > day {
			latest[s.line.Order] = s.day
		}
		short[s.line.Order] = short[s.line.Order] || !s.allocated
	}
	for i := range all {
		s := &all[i]
		switch {
		case !together(s.line):
		case short[s.line.Order]:
			s.withheld, s.day = true, c.unplannedDate(s.line)
		default:
			s.day = latest[s.line.Order]
		}
	}
}

// together reports whether a line ships with others of its order only.
func together(line *shop.Line) bool { return line.Complete && line.Order != "" }

// unplannedDate returns when a set counts as shipped that a line doesn't get.
func (c *checker) unplannedDate(line *shop.Line) shop.Date {
	return c.shipDate(line, c.horizon) + shop.Date(c.shop.Policy.UnplannedDays)
}

// A shipping is what a ship date depends on.
type shipping struct {
	done       shop.Date
	finishDays int
}

// shipDate returns when a set of a line ships that is done at a minute.
func (c *checker) shipDate(line *shop.Line, done int64) shop.Date {
	key := shipping{c.date(done), c.known.products[line.Product].FinishDays}
	if day, ok := c.ships[key]; ok {
		return day
	}
	calendar := c.shop.Calendars[c.shop.Policy.ShippingCalendar]
	day := key.done
	for left := key.finishDays; left > 0; {
		day++
		if workingDay(&calendar, day, c.zone) {
			left--
		}
	}
	for key.finishDays == 0 && !workingDay(&calendar, day, c.zone) {
		day++
	}
	c.ships[key] = day
	return day
}

// cost counts the plan's cost, exactly.
func (c *checker) cost(shipments []shipment) plan.Cost {
	var cost plan.Cost
	policy := &c.shop.Policy
	for _, s := range shipments {
		days := float64(s.day - s.line.Due)
		if days > 0 {
			cost.Late += float64(s.sets) * s.line.Weight * policy.LateCost * days
		} else if s.allocated && !s.withheld {
			cost.Hold += float64(s.sets) * policy.HoldCost * -days
		}
	}
	for _, l := range c.loads {
		minutes := c.cureMinutes(l)
		if l.released {
			minutes = float64(l.CureEnd.Minute - l.CureStart.Minute)
		}
		cost.Oven += l.oven.RunCost + l.oven.HourCost*minutes/60
	}
	for _, t := range c.tasks {
		if t.needsSetup {
			cost.Setup += float64(t.station.SetupMinutes) * policy.LabourCost
		}
	}
	cost.Total = cost.Late + cost.Hold + cost.Oven + cost.Setup
	return cost
}

// checkCost compares what the plan states with what was counted. Comparing
// what is near, not what is far, also refuses numbers that are none.
func (c *checker) checkCost(counted plan.Cost) {
	for _, term := range []struct {
		name            string
		stated, counted float64
	}{
		{"late", c.plan.Cost.Late, counted.Late},
		{"hold", c.plan.Cost.Hold, counted.Hold},
		{"oven", c.plan.Cost.Oven, counted.Oven},
		{"setup", c.plan.Cost.Setup, counted.Setup},
		{"total", c.plan.Cost.Total, counted.Total},
	} {
		if near := math.Abs(term.stated-term.counted) <= costTolerance+costShare*term.counted; !near {
			c.breach(RuleCost, "cost."+term.name, "%.6f is stated, %.6f counted", term.stated, term.counted)
		}
	}
}

// checkBound judges that the stated bound may be one for a plan that costs
// what was counted, and its gap to what the plan states.
func (c *checker) checkBound(counted float64) {
	bound, total := c.plan.Bound, c.plan.Cost.Total
	if sane := bound.Total >= 0 && bound.Total <= counted+costTolerance; !sane {
		c.breach(RuleBound, "bound.total", "%.6f is not between 0 and the cost %.6f", bound.Total, counted)
	}
	gap := 0.0
	if total != 0 {
		gap = (total - bound.Total) / total
	}
	if near := math.Abs(bound.Gap-gap) <= gapTolerance; !near {
		c.breach(RuleBound, "bound.gap", "%.6f is stated, %.6f counted", bound.Gap, gap)
	}
}
