package reference_test

import (
	"slices"

	"blankwright/scheduler/shop"
)

// A filling is the loads that take the same racks for the same pieces, and when the
// n-th of them takes its racks and leaves them.
type filling struct {
	pieces, racks []int
	loads         []*load
	taken, left   [][]sum
}

// addRacks lets no more racks of a type be in use than there are (R5): from a load's
// first wrapping to its last pull.
func (m *model) addRacks() {
	if m.without == "R5" || m.plenty() {
		return
	}
	fillings := m.fillings()
	for _, f := range fillings {
		m.addUse(f)
	}
	for t := range m.end {
		for _, b := range m.batches {
			taken, left := sum{}, sum{}
			for _, f := range fillings {
				taken.add(b.of(m, f.pieces), at(f.taken, t))
				left.add(b.of(m, f.pieces), at(f.left, t))
			}
			m.atMost(at(b.after[shop.Wrap].begun, t), taken)
			m.atMost(left, at(b.after[shop.Pull].ended, t))
		}
		for r := range m.s.Racks {
			use := sum{}
			for _, f := range fillings {
				use.add(f.racks[r], at(f.taken, t))
				use.add(-f.racks[r], at(f.left, t))
			}
			m.atMost(use, fixed(max(0, m.racks(&m.s.Racks[r], t))))
		}
	}
}

// plenty reports whether there is a rack for each piece.
func (m *model) plenty() bool {
	pieces := 0
	for _, s := range m.sections {
		pieces += s.most
	}
	return !slices.ContainsFunc(m.s.Racks, func(r shop.Rack) bool { return r.Count-len(r.BusyUntil) < pieces })
}

func (m *model) fillings() (all []*filling) {
	for _, l := range m.loads {
		i := slices.IndexFunc(all, func(f *filling) bool { return slices.Equal(f.pieces, l.pieces) && slices.Equal(f.racks, l.racks) })
		if i < 0 {
			i = len(all)
			all = append(all, &filling{pieces: l.pieces, racks: l.racks})
		}
		all[i].loads = append(all[i].loads, l)
	}
	return all
}

// addUse has racks taken before the loads go in, and left after they are ready.
func (m *model) addUse(f *filling) {
	most := m.most(f.pieces)
	always := func(int) bool { return true }
	f.taken, f.left = m.rising(most, m.end, always), m.rising(most, m.end, always)
	in := m.tally(most, happens(m.end, f.loads, goesIn, one))
	ready := m.tally(most, happens(m.end, f.loads, isReady, one))
	for i := range most {
		for t := range m.end {
			m.atMost(in[i][t], f.taken[i][t])
			m.atMost(f.left[i][t], ready[i][t])
		}
	}
}

// most returns how many loads of some pieces are of use.
func (m *model) most(pieces []int) int {
	least := -1
	for i, n := range pieces {
		if n > 0 && (least < 0 || m.sections[i].most/n < least) {
			least = m.sections[i].most / n
		}
	}
	return least
}

// racks counts the racks of a type that are there in a slot for loads not released.
func (m *model) racks(rack *shop.Rack, t int) int {
	n := rack.Count
	for _, until := range rack.BusyUntil {
		if m.slot(until) > t {
			n--
		}
	}
	for _, l := range m.loadsHolding() {
		if from, to := m.usesRacks(&l); from <= t && t < to {
			for _, use := range l.Racks {
				if use.Rack == rack.ID {
					n--
				}
			}
		}
	}
	return n
}

// usesRacks returns from when to when a released load uses its racks.
func (m *model) usesRacks(l *shop.Load) (from, to int) {
	from, to = m.slot(l.In), m.slot(l.Out)
	for _, task := range m.holding {
		switch {
		case task.Load != l.ID:
		case task.Stage == shop.Wrap:
			from = min(from, task.start)
		case task.Stage == shop.Pull:
			to = max(to, task.end)
		}
	}
	return from, to
}
