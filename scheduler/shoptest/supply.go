package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// addSupply gives most prepregs more than demand needs, part of it soon to
// expire and part of it still to come; some less, some none, and of some the
// file says nothing, so that they are unlimited.
func (m *maker) addSupply() {
	need := m.prepregNeed()
	for _, p := range m.s.Prepregs {
		switch {
		case !m.maybe():
		case m.chance(0.05 * m.odd):
			m.lot(p.ID, 0, -3, 300)
		default:
			m.lots(p.ID, need[p.ID])
		}
	}
}

func (m *maker) lots(prepreg string, need float64) {
	factor := m.decimal(1.3, 2, 2)
	if m.chance(0.1) {
		factor = 0.6
	}
	first := m.decimal(0.3, 0.7, 2)
	m.lot(prepreg, need*factor*first, -m.between(1, 10), m.between(3, m.days+3))
	m.lot(prepreg, need*factor*(1-first), m.between(-1, 3), 300)
	if m.chance(0.3) {
		m.lot(prepreg, 0, -20, 2)
	}
}

// lot adds supply that is there from some days after now and expires others
// after now.
func (m *maker) lot(prepreg string, m2 float64, from, expires int) {
	m.s.Supply = append(m.s.Supply, shop.Supply{
		ID: fmt.Sprintf("lot-%03d", len(m.s.Supply)+1), Prepreg: prepreg, M2: round(m2, 2),
		From:    m.at(m.s.Now.Minute + int64(from)*1440),
		Expires: m.at(m.s.Now.Minute + int64(expires)*1440),
	})
}

// prepregNeed returns the square metres that demand needs of each prepreg.
func (m *maker) prepregNeed() map[string]float64 {
	need := map[string]float64{}
	for _, p := range m.s.Products {
		for _, s := range p.Sections {
			for _, f := range s.Flags {
				need[f.Prepreg] += float64(m.need[s.ID]) * f.M2()
			}
		}
	}
	for _, p := range m.s.Prepregs {
		need[p.ID] /= p.NestYield
	}
	return need
}
