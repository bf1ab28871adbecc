package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// addOvens makes the ovens. The first is the tallest and has every profile, so
// that what suits any profile can be cured.
func (m *maker) addOvens() {
	var profiles []string
	for _, p := range m.s.Profiles {
		profiles = append(profiles, p.ID)
	}
	height := pick(m.dice, 2000.0, 2400, 2700)
	for i := range m.ovens {
		o := shop.Oven{
			ID: fmt.Sprintf("oven-%d", i+1), Bays: m.between(2, 4), HeightMM: height, MaxKg: m.decimal(300, 500, 0),
			Profiles: profiles, Calendar: "site", Unattended: m.chance(0.6),
			LoadMinutes: m.between(1, 15), UnloadMinutes: m.between(1, 15),
			RunCost: m.decimal(5, 25, 2), HourCost: m.decimal(4, 12, 2),
		}
		if i > 0 {
			o.Profiles = some(m.dice, profiles[m.IntN(len(profiles)):], 0.6)
			o.HeightMM = pick(m.dice, height, height-300)
		}
		if o.Unattended && m.maybe() {
			o.Calendar = "always"
		}
		if m.maybe() {
			o.LagMinutesPerKg = m.decimal(0.02, 0.1, 3)
		}
		if m.tiny {
			o.Bays = 1
		}
		m.s.Ovens = append(m.s.Ovens, o)
	}
}

// addRacks makes a tall rack, whose first set-up takes the longest mandrels of
// the shop, and by chance a short one, which fits under every oven.
func (m *maker) addRacks() {
	height := m.s.Ovens[0].HeightMM
	m.longest = height - 250
	tall := m.rack("tall", height-50)
	m.s.Racks = append(m.s.Racks, tall)
	if !m.tiny && m.chance(0.7) {
		m.s.Racks = append(m.s.Racks, m.rack("short", round(0.7*(height-300), 0)))
	}
}

// rack makes a rack of some outer height with one to three ways to hang it.
func (m *maker) rack(id string, outer float64) shop.Rack {
	clear, pegs, pitch := outer-200, m.between(20, 44), m.decimal(16, 28, 1)
	r := shop.Rack{ID: id, Count: m.racks, TareKg: m.decimal(25, 55, 1), MaxKg: m.decimal(90, 190, 0)}
	if m.tiny {
		r.Count, pegs = m.between(1, 2), m.between(2, 4)
	}
	ways := some(m.dice, []int{1, 2, 3}, 0.6)
	for _, levels := range ways {
		s := shop.Setup{ID: fmt.Sprintf("%d-high", levels), OuterHeightMM: outer}
		left := clear
		for l := levels; l > 0; l-- {
			height := left
			if l > 1 {
				height = round(left/float64(l)*m.decimal(1, 1.3, 2), 0)
			}
			s.Levels = append(s.Levels, shop.Level{ClearMM: height, Pegs: pegs, PitchMM: pitch})
			left -= height
		}
		r.Setups = append(r.Setups, s)
	}
	return r
}
