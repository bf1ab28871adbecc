package reference_test

import (
	"math"

	"blankwright/scheduler/shop"
)

// A line is one row of demand: its n-th set has been given by a day.
type line struct {
	*shop.Line
	given [][]sum
}

// addDemand gives the lines the sets as they become good (R13).
func (m *model) addDemand() {
	always := func(int) bool { return true }
	for p := range m.s.Products {
		product := &m.s.Products[p]
		var lines []*line
		sets := 0
		for i := range m.s.Demand {
			if l := &m.s.Demand[i]; l.Product == product.ID {
				lines = append(lines, &line{l, m.rising(l.Quantity, m.days(), always)})
				sets += l.Quantity
			}
		}
		allocated := m.rising(sets, m.days(), always)
		for d := range m.days() {
			given := sum{}
			for _, l := range lines {
				given.add(1, at(l.given, d))
			}
			m.equal(at(allocated, d), given)
			m.allocate(allocated, p, d)
		}
		m.lines = append(m.lines, lines...)
	}
}

// allocate has sets of a product allocated by a day's end as they are good by then,
// as far as any are.
func (m *model) allocate(allocated [][]sum, product, day int) {
	for n := range allocated {
		all := []sum{allocated[n][m.days()-1]}
		for _, s := range m.sections {
			if s.product == product {
				all = append(all, m.good(s, n+1, day))
			}
		}
		if m.without != "R13" {
			m.both(allocated[n][day], all...)
			continue
		}
		for _, good := range all {
			m.atMost(allocated[n][day], good)
		}
	}
}

// good returns whether there are so many good pieces of a section by a day's end.
func (m *model) good(s *section, n, day int) sum {
	end := m.last(day)
	n -= m.s.Products[s.product].Stock
	for _, in := range m.s.Incoming {
		if in.Section == s.ID && m.since(&in.At) <= end {
			n -= in.Pieces
		}
	}
	need := int(math.Ceil(float64(n)/s.Yield - 1e-6)) // pieces to be trimmed
	trimmed, most := m.trimmed(s, end)
	switch {
	case trimmed.constant >= need:
		return fixed(1)
	case most < need:
		return fixed(0)
	}
	good := m.choice()
	m.atMost(good.plus(need-1, good), trimmed)
	m.atMost(trimmed, fixed(need-1).plus(most-need+1, good))
	return good
}

// trimmed counts the pieces of a section that are trimmed by a slot, and says how
// many these can be.
func (m *model) trimmed(s *section, end int) (n sum, most int) {
	for _, t := range m.released {
		if t.Stage == shop.Trim && t.section == s && 0 < t.end && t.end <= end {
			n.add(t.Pieces, fixed(1))
		}
	}
	most = n.constant
	for _, b := range m.batches {
		if b.section == s {
			n.add(b.pieces, at(b.after[shop.Trim].ended, end))
			most += b.pieces * b.most
		}
	}
	return n, most
}
