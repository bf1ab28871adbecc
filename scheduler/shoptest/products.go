package shoptest

import (
	"fmt"
	"math"

	"blankwright/scheduler/shop"
)

func (m *maker) addProducts() {
	for i := range m.products {
		p := shop.Product{
			ID:         fmt.Sprintf("blank-%02d", i+1),
			Name:       fmt.Sprintf("Blank %d (invented)", i+1),
			FinishDays: m.between(0, 7),
		}
		if m.maybe() {
			p.Stock = m.between(1, 3)
		}
		for k := range m.pieceCount() {
			p.Sections = append(p.Sections, m.section(fmt.Sprintf("%s.%d", p.ID, k+1)))
		}
		if m.chance(m.spoilt) {
			m.spoil(&p.Sections[m.IntN(len(p.Sections))])
		}
		m.s.Products = append(m.s.Products, p)
	}
}

// pieceCount draws of how many sections a blank is made.
func (m *maker) pieceCount() int {
	if m.tiny {
		return m.between(1, 2)
	}
	return pick(m.dice, 1, 1, 1, 2, 2, 2, 3, 4, 4)
}

func (m *maker) section(id string) shop.Section {
	f := pick(m.dice, m.families...)
	s := shop.Section{
		ID: id, Mandrel: m.mandrelType(), Tape: pick(m.dice, f.tapes...),
		ODMM: m.decimal(3, 25, 1), Kg: m.decimal(0.02, 0.15, 3), Yield: m.yield(),
		Minutes: shop.Minutes{
			Tack: m.decimal(1, 2.4, 1), Roll: m.decimal(0.5, 1.2, 1), Wrap: m.decimal(1, 2.5, 1),
			Pull: m.decimal(0.3, 1.2, 2), Strip: m.decimal(0.3, 1.2, 2), Trim: m.decimal(0, 1, 1),
		},
	}
	if m.maybe() {
		s.Profiles = some(m.dice, f.profiles, 0.5)
	}
	for range m.between(1, 3) {
		butt := m.decimal(30, 130, 1)
		s.Flags = append(s.Flags, shop.Flag{
			Prepreg: pick(m.dice, f.prepregs...), LengthMM: m.decimal(300, 1800, 0),
			ButtMM: butt, TipMM: round(butt*m.decimal(0, 0.4, 2), 1), CutMinutes: m.decimal(0.2, 1, 2),
		})
	}
	return s
}

func (m *maker) yield() float64 {
	if m.tiny || m.chance(0.2) {
		return 1
	}
	return m.decimal(0.85, 0.99, 2)
}

// mandrelType draws the mandrel type of a section: one of those that others
// use, or a new one.
func (m *maker) mandrelType() string {
	if len(m.s.MandrelTypes) > 0 && m.chance(0.3) {
		return pick(m.dice, m.s.MandrelTypes...).ID
	}
	hang := m.decimal(400, m.longest, 0)
	if !m.chance(0.25) {
		hang = min(hang, m.decimal(600, 1600, 0))
	}
	return m.newMandrelType(hang)
}

func (m *maker) newMandrelType(hang float64) string {
	t := shop.MandrelType{
		ID:                fmt.Sprintf("mandrel-%02d", len(m.s.MandrelTypes)+1),
		HangMM:            hang,
		Kg:                round(hang/1000*m.decimal(0.3, 0.7, 2), 2),
		TurnaroundMinutes: pick(m.dice, 0, 15, 30, 45, 60),
	}
	m.s.MandrelTypes = append(m.s.MandrelTypes, t)
	return t.ID
}

// spoil makes a section impossible in one of the ways a shop file can.
func (m *maker) spoil(s *shop.Section) {
	switch m.IntN(4) {
	case 0: // it hangs lower than any rack is high
		s.Mandrel = m.newMandrelType(m.longest + 200)
	case 1: // no cure shrinks its tape
		if m.s.Tapes[len(m.s.Tapes)-1].ID != "film-never" {
			m.s.Tapes = append(m.s.Tapes, shop.Tape{ID: "film-never", ShrinkFromC: 300, MaxC: 350})
		}
		s.Tape = "film-never"
	case 2: // all its mandrels are out of use
		s.Mandrel = m.newMandrelType(round(0.5*m.longest, 0))
		m.toolless[s.Mandrel] = true
	case 3: // no rack bears it
		s.Kg = 500
	}
}

// addMandrels makes as many tools of each type as demand wants for some days,
// most of them ready. Who cleans a mandrel holds it longer than the cure.
func (m *maker) addMandrels() {
	wanted := map[string]int{}
	for _, p := range m.s.Products {
		for _, s := range p.Sections {
			wanted[s.Mandrel] += m.need[s.ID]
		}
	}
	for _, t := range m.s.MandrelTypes {
		daily := float64(wanted[t.ID]) / float64(m.pieces) * m.pace()
		ready := min(clamp(wanted[t.ID], 1, 6), m.between(3, 6)) + int(math.Ceil(daily*m.decimal(2, 4, 1)))
		for i := range ready + m.between(0, 2) {
			tool := shop.Mandrel{ID: fmt.Sprintf("%s/%d", t.ID, i+1), Type: t.ID, State: shop.Ready}
			if i >= ready || m.toolless[t.ID] {
				tool.State = pick(m.dice, "inspection", "quarantine", "to recoat", "scrapped")
			} else if m.chance(0.15 * m.odd) {
				at := m.soon(3)
				tool.ReadyAt = &at
			}
			m.s.Mandrels = append(m.s.Mandrels, tool)
		}
	}
}
