package shoptest

import (
	"fmt"
	"math"

	"blankwright/scheduler/shop"
)

// addDemand shares out the pieces over the lines, and counts what they need.
func (m *maker) addDemand() {
	left := float64(m.pieces)
	for i := range m.lines {
		p := pick(m.dice, m.s.Products...)
		n := left / float64(m.lines-i) / float64(len(p.Sections)) * m.decimal(0.4, 1.6, 2)
		line := m.line(i, &p, max(1, int(math.Round(n))))
		left = max(0, left-float64(line.Quantity*len(p.Sections)))
		m.s.Demand = append(m.s.Demand, line)
		for _, s := range p.Sections {
			m.need[s.ID] += share(float64(line.Quantity), s.Yield)
		}
	}
}

func (m *maker) line(i int, p *shop.Product, quantity int) shop.Line {
	line := shop.Line{
		ID: fmt.Sprintf("line-%03d", i+1), Kind: shop.KindOrder, Product: p.ID, Quantity: quantity,
		Due: m.due(p), Weight: pick(m.dice, 0.5, 1, 1, 1, 1.5, 2, 3),
	}
	if m.chance(0.2) {
		line.Kind, line.Weight = shop.KindRestock, 0.5
		return line
	}
	if m.maybe() {
		line.Order = fmt.Sprintf("order-%02d", m.between(1, share(float64(m.lines), 2)))
	}
	line.Complete = m.maybe()
	return line
}

// due draws a date on which most lines can be met: few before the finish is
// dry, and one in thirty in the past.
func (m *maker) due(p *shop.Product) shop.Date {
	if m.chance(0.03) {
		return m.today - shop.Date(m.between(1, 10))
	}
	first := 2 + p.FinishDays
	return m.today + shop.Date(m.between(first, max(first, m.days+p.FinishDays)))
}
