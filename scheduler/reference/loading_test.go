package reference_test

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// A loading is one way to fill an oven: what hangs in it, how, and for how long it
// is cured under which profile.
type loading struct {
	oven, profile int
	pieces        []int // by section
	racks         []int // by rack type
	uses          []shop.RackUse
	minutes       float64
}

// loadings returns every way to fill an oven that some plan needs. One that takes
// more racks for the same pieces is left out: it takes no less time.
func (m *model) loadings() (all []loading) {
	for o := range m.s.Ovens {
		frames := m.frames(&m.s.Ovens[o])
		m.compositions(func(pieces []int) {
			for _, l := range m.hangings(o, pieces, frames) {
				all = append(all, m.cures(l)...)
			}
		})
	}
	return all
}

// compositions calls f with every number of pieces of each section that is of use,
// but none at all.
func (m *model) compositions(f func(pieces []int)) {
	pieces := make([]int, len(m.sections))
	for {
		i := 0
		for ; i < len(pieces) && pieces[i] == m.sections[i].most; i++ {
			pieces[i] = 0
		}
		if i == len(pieces) {
			return
		}
		pieces[i]++
		f(slices.Clone(pieces))
	}
}

// hangings returns the ways to hang pieces in an oven that differ in their racks.
func (m *model) hangings(oven int, pieces []int, frames []frame) (found []loading) {
	if m.without == "R3" {
		return []loading{{oven: oven, pieces: pieces, racks: make([]int, len(m.s.Racks))}}
	}
	for _, f := range frames {
		racks := f.count(len(m.s.Racks))
		if slices.ContainsFunc(found, func(l loading) bool { return fewer(l.racks, racks) }) {
			continue
		}
		if uses := m.hang(&m.s.Ovens[oven], f, pieces); uses != nil {
			found = append(found, loading{oven: oven, pieces: pieces, racks: racks, uses: uses})
		}
	}
	return found
}

// fewer reports whether there are no more racks of any type.
func fewer(racks, than []int) bool {
	for r := range racks {
		if racks[r] > than[r] {
			return false
		}
	}
	return true
}

// cures returns a filling under each profile that its oven runs and that qualifies
// for all of its sections (R1), with its minutes (R2).
func (m *model) cures(l loading) (all []loading) {
	oven := &m.s.Ovens[l.oven]
	kg := m.kg(l.pieces)
	for r, n := range l.racks {
		kg += float64(n) * m.s.Racks[r].TareKg
	}
	for p := range m.s.Profiles {
		profile := &m.s.Profiles[p]
		if m.without != "R1" && !(slices.Contains(oven.Profiles, profile.ID) && m.cured(l.pieces, p)) {
			continue
		}
		l.profile, l.minutes = p, math.Ceil(cureMinutes(m.s, oven, profile, kg)-1e-6)
		if m.without == "R2" {
			l.minutes = hour
		}
		all = append(all, l)
	}
	return all
}

func (m *model) cured(pieces []int, profile int) bool {
	for i, n := range pieces {
		if n > 0 && !m.sections[i].profiles[profile] {
			return false
		}
	}
	return true
}

// kg returns what pieces weigh with their mandrels.
func (m *model) kg(pieces []int) (sum float64) {
	for i, n := range pieces {
		sum += float64(n) * m.sections[i].kg
	}
	return sum
}
