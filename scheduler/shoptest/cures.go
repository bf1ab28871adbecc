package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// A family is the prepregs that one cure suits, whatever their resins, so that
// a section of them can be made; the profiles are named coolest first.
type family struct {
	profiles []string
	tapes    []string
	prepregs []string
}

// addCures makes one to three families of resins, each cooler than the next:
// their prepregs, the profiles that suit them, and the tapes that suit those.
func (m *maker) addCures() {
	m.s.Tapes = []shop.Tape{
		{ID: "film-low", ShrinkFromC: m.decimal(60, 75, 0), MaxC: 145},
		{ID: "film-high", ShrinkFromC: m.decimal(104, 108, 0), MaxC: 200},
	}
	n := m.between(1, 3)
	if m.tiny {
		n = 1
	}
	for i := range n {
		m.family(i)
	}
}

// family adds family i. Its profile soaks at peak for soak minutes, which is
// never less than its resins ask for there.
func (m *maker) family(i int) {
	peak := 88 + 22*float64(i) + m.decimal(0, 6, 0)
	soak := 220 - 60*float64(i) + m.decimal(0, 30, 0)
	ramp := m.decimal(1, 2, 1)
	id := fmt.Sprintf("cure-%d", i+1)
	f := family{profiles: []string{id}, tapes: []string{"film-low"}}
	if peak > 108 {
		f.tapes = append(f.tapes, "film-high")
	}
	m.s.Profiles = append(m.s.Profiles, m.profile(id, ramp, peak, soak))
	if m.maybe() {
		f.profiles = append(f.profiles, id+"-hot")
		m.s.Profiles = append(m.s.Profiles, m.profile(id+"-hot", ramp, peak+4, soak+5))
	}
	for range m.between(1, 2) {
		resin := m.resin(ramp, peak, soak)
		for range m.between(1, 2) {
			f.prepregs = append(f.prepregs, m.prepreg(resin))
		}
	}
	m.families = append(m.families, f)
}

func (m *maker) profile(id string, ramp, peak, soak float64) shop.Profile {
	p := shop.Profile{ID: id, CoolCPerMin: m.decimal(2, 4, 1), CoolToC: m.decimal(45, 60, 0), RestMinutes: m.between(0, 30)}
	if m.maybe() {
		p.Segments = append(p.Segments, shop.Segment{RampCPerMin: ramp, ToC: peak - 30, SoakMinutes: m.decimal(10, 25, 1)})
	}
	p.Segments = append(p.Segments, shop.Segment{RampCPerMin: ramp, ToC: peak, SoakMinutes: soak})
	if m.maybe() {
		p.Segments = append(p.Segments, shop.Segment{RampCPerMin: 5, ToC: peak - 25, SoakMinutes: 5})
	}
	return p
}

// resin adds a resin that the family's profiles suit: they may be 4 degrees
// hotter than peak. Its soak table is stated in any order.
func (m *maker) resin(ramp, peak, soak float64) string {
	r := shop.Resin{
		ID:             fmt.Sprintf("resin-%d", len(m.s.Resins)+1),
		MaxRampCPerMin: round(ramp+m.decimal(0, 1, 1), 1),
		MaxC:           peak + m.decimal(4, 9, 0),
		Soak: []shop.SoakPoint{
			{C: peak, Minutes: soak - m.decimal(0, 10, 1)},
			{C: peak + 10, Minutes: soak - m.decimal(25, 35, 1)},
			{C: peak - 10, Minutes: soak + m.decimal(20, 60, 1)},
		},
	}
	m.Shuffle(3, func(i, j int) { r.Soak[i], r.Soak[j] = r.Soak[j], r.Soak[i] })
	m.s.Resins = append(m.s.Resins, r)
	return r.ID
}

func (m *maker) prepreg(resin string) string {
	p := shop.Prepreg{
		ID:             fmt.Sprintf("prepreg-%d", len(m.s.Prepregs)+1),
		Resin:          resin,
		MaxOpenMinutes: pick(m.dice, 2160, 2880, 4320, 10080),
		NestYield:      m.decimal(0.7, 0.95, 2),
	}
	m.s.Prepregs = append(m.s.Prepregs, p)
	return p.ID
}
