package reference_test

import (
	"slices"

	"blankwright/scheduler/shop"
)

// A load is a loading that goes in at a slot and comes out at another, or not.
type load struct {
	*loading
	*stay
	chosen sum
	ready  int // to be pulled
}

// A stay is an oven's time with one load, whatever hangs in it.
type stay struct {
	oven, in, cure, out int
	taken               sum
	loads               []sum
}

// addLoads adds every loading at every time.
func (m *model) addLoads() {
	all := m.loadings()
	for i := range all {
		oven := &m.s.Ovens[all[i].oven]
		clock := m.clock(oven.Calendar)
		if m.without == "R4" {
			clock = m.always()
		}
		for in := range m.end {
			m.addLoad(&all[i], oven, clock, in)
		}
	}
}

// addLoad adds a loading that goes in at a slot (R4). It comes out as soon as it can;
// where that takes people, also later.
func (m *model) addLoad(l *loading, oven *shop.Oven, clock clock, in int) {
	cure := in + m.whole(float64(oven.LoadMinutes))
	unload := m.whole(float64(oven.UnloadMinutes))
	if !clock.within(in, cure) {
		return
	}
	for out := cure + m.whole(l.minutes) + unload; out <= m.end; out++ {
		attended := oven.Unattended || clock.within(in, out)
		if !clock.within(out-unload, out) || !attended || m.without != "R4" && m.shut(oven, in, out) {
			continue
		}
		rest := m.whole(float64(m.s.Profiles[l.profile].RestMinutes))
		stay := m.stay(l.oven, in, cure, out)
		chosen := m.choice()
		stay.loads = append(stay.loads, chosen)
		m.loads = append(m.loads, &load{loading: l, stay: stay, chosen: chosen, ready: out + rest})
		if oven.Crew == "" {
			return
		}
	}
}

// stay returns an oven's time between two slots, which may be new.
func (m *model) stay(oven, in, cure, out int) *stay {
	for _, s := range m.stays {
		if s.oven == oven && s.in == in && s.out == out {
			return s
		}
	}
	s := &stay{oven: oven, in: in, cure: cure, out: out, taken: m.choice()}
	m.stays = append(m.stays, s)
	return s
}

// shut reports whether an oven is down, or taken by other work, in some of a span.
func (m *model) shut(oven *shop.Oven, in, out int) bool {
	down := func(d shop.Downtime) bool {
		return d.Resource == "oven:"+oven.ID && m.slot(d.From) < out && in < m.slot(d.To)
	}
	taken := func(l shop.Load) bool { return l.Oven == oven.ID && m.slot(l.In) < out && in < m.slot(l.Out) }
	return in < m.since(oven.BusyUntil) || slices.ContainsFunc(m.s.Downtime, down) || slices.ContainsFunc(m.loadsHolding(), taken)
}

// addOvens lets each oven have one load at a time (R4).
func (m *model) addOvens() {
	for _, s := range m.stays {
		m.equal(s.taken, total(s.loads...))
	}
	if m.without == "R4" {
		return
	}
	for o := range m.s.Ovens {
		for t := range m.end {
			taken := sum{}
			for _, s := range m.stays {
				if s.oven == o && s.in <= t && t < s.out {
					taken.add(1, s.taken)
				}
			}
			m.atMost(taken, fixed(1))
		}
	}
}

// happens sums up loads, with a weight for each, by the slot of something in them.
func happens(end int, loads []*load, slot, weight func(*load) int) []sum {
	all := make([]sum, end+1)
	for _, l := range loads {
		if t := slot(l); t <= end {
			all[t].add(weight(l), l.chosen)
		}
	}
	return all
}

// What happens in a load, and a weight for all.
func goesIn(l *load) int  { return l.in }
func isCured(l *load) int { return l.cure }
func isReady(l *load) int { return l.ready }
func one(*load) int       { return 1 }
