package reference_test

import (
	"math"

	"blankwright/scheduler/shop"
)

// areaUnit is the square metres in which areas are whole.
const areaUnit = 0.01

// addMaterial has enough prepreg (R12): for what is cut before some supply comes,
// for what is cured after some has expired, and for what is both. Whether what there
// is can be drawn in the contract's order is left to the check of the plan. Released
// work of a small shop was all cut before now.
func (m *model) addMaterial() {
	if m.without == "R12" {
		return
	}
	for i := range m.s.Prepregs {
		prepreg := &m.s.Prepregs[i]
		var rows []shop.Supply
		for _, row := range m.s.Supply {
			if row.Prepreg == prepreg.ID {
				rows = append(rows, row)
			}
		}
		if rows == nil {
			continue // there is no end of it
		}
		for _, from := range append(rows, shop.Supply{From: m.instant(m.end)}) {
			for _, expires := range append(rows, shop.Supply{Expires: m.instant(0)}) {
				m.addSupply(prepreg, rows, m.slot(from.From), m.slot(expires.Expires))
			}
		}
	}
}

// addSupply demands that what is cut before a slot be no more than what has come, and
// what is cured after a slot no more than what lasts. Of what is cut before, all but
// what is cured in time needs what has come and lasts.
func (m *model) addSupply(prepreg *shop.Prepreg, rows []shop.Supply, from, expires int) {
	come, lasting, both := 0, 0, 0
	for _, row := range rows {
		comes, lasts := m.slot(row.From) < from, m.slot(row.Expires) > expires
		unit := int(math.Floor(row.M2/areaUnit + 1e-4))
		if comes {
			come += unit
		}
		if lasts {
			lasting += unit
		}
		if comes && lasts {
			both += unit
		}
	}
	cut, inTime, after := m.cutBefore(prepreg, from), sum{}, sum{}
	for _, l := range m.loads {
		if l.cure <= expires {
			inTime.add(m.areaIn(prepreg, l), l.chosen)
		} else {
			after.add(m.areaIn(prepreg, l), l.chosen)
		}
	}
	m.atMost(cut, fixed(come))
	m.atMost(after, fixed(lasting))
	m.atMost(cut.plus(-1, inTime), fixed(both))
}

// cutBefore returns the area that is cut before a slot.
func (m *model) cutBefore(prepreg *shop.Prepreg, slot int) (cut sum) {
	for _, b := range m.batches {
		for _, w := range b.cuts {
			if w.prepreg == prepreg.ID && slot > 0 {
				cut.add(b.pieces*pieceArea(b.section, prepreg), at(w.begun, min(slot, m.end)-1))
			}
		}
	}
	return cut
}

func (m *model) areaIn(prepreg *shop.Prepreg, l *load) (area int) {
	for i, n := range l.pieces {
		area += n * pieceArea(m.sections[i], prepreg)
	}
	return area
}

// pieceArea returns the area that a piece takes of a prepreg.
func pieceArea(s *section, prepreg *shop.Prepreg) int {
	m2 := 0.0
	for _, f := range s.Flags {
		if f.Prepreg == prepreg.ID {
			m2 += f.LengthMM * (f.ButtMM + f.TipMM) / 2 / 1e6 / prepreg.NestYield
		}
	}
	return int(math.Round(m2 / areaUnit))
}
