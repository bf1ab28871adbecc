package reference_test

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// cents is what the shop's money is counted in.
const cents = 100

func (m *model) money(x float64) int {
	n := math.Round(x * cents)
	if math.Abs(n-x*cents) > 1e-6 {
		panic(fmt.Sprintf("%s: %g is not in whole cents", m.s.Name, x))
	}
	return int(n)
}

// addCost counts what a plan costs.
func (m *model) addCost() {
	orders := map[string][]*line{}
	for _, l := range m.lines {
		if l.Complete && l.Order != "" {
			orders[l.Order] = append(orders[l.Order], l)
		} else {
			m.addLine(l)
		}
	}
	for _, order := range slices.Sorted(maps.Keys(orders)) {
		m.addOrderOf(orders[order])
	}
	for _, l := range m.loads {
		oven := &m.s.Ovens[l.loading.oven]
		m.cost.add(m.money(oven.RunCost+oven.HourCost*l.minutes/60), l.chosen)
	}
	for _, p := range m.placings {
		if p.setup {
			m.cost.add(m.setupCost(p.stage), p.chosen)
		}
	}
	m.addReleasedCost()
}

func (m *model) setupCost(stage shop.Stage) int {
	return m.money(float64(m.s.Stations.At(stage).SetupMinutes) * m.s.Policy.LabourCost)
}

// addLine counts a line whose sets ship as they are done.
func (m *model) addLine(l *line) {
	for n := range l.given {
		set := l.given[n : n+1]
		for d := range m.days() {
			m.cost.add(m.shipCost(l, m.ship(l, d)), rise(set, d))
		}
		m.cost.add(m.lateCost(l, m.never(l)), fixed(1).plus(-1, at(set, m.days()-1)))
	}
}

// addOrderOf counts lines that ship together: on the first date by which all of their
// sets can, or never.
func (m *model) addOrderOf(lines []*line) {
	last := m.s.Today()
	for _, l := range lines {
		last = max(last, m.ship(l, m.days()-1))
	}
	before := sum{}
	for date := m.s.Today(); date <= last; date++ {
		whole, cost := m.choice(), 0
		var parts []sum
		for _, l := range lines {
			parts = append(parts, m.doneFor(l, date))
			cost += l.Quantity * m.shipCost(l, date)
		}
		m.both(whole, parts...)
		m.cost.add(cost, whole.plus(-1, before))
		before = whole
	}
	for _, l := range lines {
		m.cost.add(l.Quantity*m.lateCost(l, m.never(l)), fixed(1).plus(-1, before))
	}
}

// doneFor returns whether all sets of a line can ship by a date.
func (m *model) doneFor(l *line, date shop.Date) sum {
	done := sum{}
	for d := range m.days() {
		if m.ship(l, d) <= date {
			done = l.given[l.Quantity-1][d]
		}
	}
	return done
}

func (m *model) shipCost(l *line, ship shop.Date) int {
	if ship <= l.Due {
		return int(l.Due-ship) * m.money(m.s.Policy.HoldCost)
	}
	return m.lateCost(l, ship)
}

func (m *model) lateCost(l *line, ship shop.Date) int {
	return int(max(0, ship-l.Due)) * m.money(l.Weight*m.s.Policy.LateCost)
}

// ship returns when a set of a line ships that is done on a day.
func (m *model) ship(l *line, day int) shop.Date {
	calendar := m.s.Calendars[m.s.Policy.ShippingCalendar]
	for _, p := range m.s.Products {
		if p.ID == l.Product {
			return shop.ShipDate(&calendar, m.s.Today()+shop.Date(day), p.FinishDays, m.s.Zone())
		}
	}
	panic("no product " + l.Product)
}

// never returns when a set counts as shipped that a line does not get.
func (m *model) never(l *line) shop.Date {
	return m.ship(l, m.day(m.slots)) + shop.Date(m.s.Policy.UnplannedDays)
}

// addReleasedCost counts what released work costs.
func (m *model) addReleasedCost() {
	for _, l := range m.releasedLoads() {
		for _, oven := range m.s.Ovens {
			if oven.ID == l.Oven {
				m.cost.constant += m.money(oven.RunCost + oven.HourCost*float64(l.CureEnd.Minute-l.CureStart.Minute)/60)
			}
		}
	}
	for _, t := range m.released {
		if t.Setup {
			m.cost.constant += m.setupCost(t.Stage)
		}
	}
}
