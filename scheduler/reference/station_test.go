package reference_test

import (
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
)

// A placing is some work from a slot on at one position, after a set-up or without
// one, or not.
type placing struct {
	*work
	position   int
	setup      bool
	start, end int
	chosen     sum
}

// addStations adds all work at all stages (R6), told apart by position where one is
// not as good as another: where it matters what it is set up for, or whether it is
// down.
func (m *model) addStations() {
	for _, stage := range shop.Stages() {
		works := m.worksAt(stage)
		if m.without != "R6" && (m.setups(stage) || m.differ(stage)) {
			m.addPlaced(stage, works)
		} else {
			m.addAlike(stage, works)
		}
	}
}

func (m *model) worksAt(stage shop.Stage) (all []*work) {
	for _, b := range m.batches {
		for _, w := range b.works() {
			if w.stage == stage {
				all = append(all, w)
			}
		}
	}
	return all
}

// setups reports whether set-ups take time at a stage.
func (m *model) setups(stage shop.Stage) bool {
	keyed := stage == shop.Cut || stage == shop.Tack || stage == shop.Wrap
	return keyed && m.s.Stations.At(stage).SetupMinutes > 0 && m.without != "R7"
}

// differ reports whether a position has downtime of its own.
func (m *model) differ(stage shop.Stage) bool {
	return slices.ContainsFunc(m.s.Downtime, func(d shop.Downtime) bool {
		for p := range m.s.Stations.At(stage).Positions {
			if d.Resource == positionName(stage, p+1) {
				return true
			}
		}
		return false
	})
}

func positionName(stage shop.Stage, position int) string {
	return fmt.Sprintf("%s/%d", stage, position)
}

// stationClock returns when a position works.
func (m *model) stationClock(stage shop.Stage, position int) clock {
	if m.without == "R6" {
		return m.always()
	}
	return m.clock(m.s.Stations.At(stage).Calendar, stage.String(), positionName(stage, position))
}

// addAlike adds work at a stage of which all positions are alike.
func (m *model) addAlike(stage shop.Stage, works []*work) {
	clock := m.stationClock(stage, 1)
	for _, w := range works {
		w.begun = m.rising(w.most, m.end, func(t int) bool {
			_, ok := clock.after(t, w.slots)
			return clock[t] > 0 && ok
		})
		w.ended = w.endings(clock)
	}
	for t := range m.end {
		if m.without != "R6" {
			m.atMost(busy(works, t), fixed(m.s.Stations.At(stage).Positions-m.releasedAt(stage, t)))
		}
	}
}

// endings tells what has ended at each slot from what has begun so long before.
func (w *work) endings(clock clock) [][]sum {
	all := make([][]sum, w.most)
	for i := range all {
		all[i] = make([]sum, len(clock)+1)
		for t := range clock {
			if end, ok := clock.after(t, w.slots); ok && clock[t] > 0 {
				all[i][end] = w.begun[i][t]
			}
		}
		for t := range clock { // what has ended stays so
			if all[i][t+1].terms == nil {
				all[i][t+1] = all[i][t]
			}
		}
	}
	return all
}

// busy counts what has begun by a slot and not ended at it.
func busy(works []*work, t int) (out sum) {
	for _, w := range works {
		out.add(1, at(w.begun, t))
		out.add(-1, at(w.ended, t))
	}
	return out
}

// addPlaced adds work at a stage of which the positions are told apart.
func (m *model) addPlaced(stage shop.Stage, works []*work) {
	for position := 1; position <= m.s.Stations.At(stage).Positions; position++ {
		clock := m.stationClock(stage, position)
		var here []*placing
		for _, w := range works {
			here = append(here, m.placingsOf(w, position, clock)...)
		}
		for t := range m.end {
			taken := fixed(m.releasedOn(stage, position, t))
			for _, p := range here {
				if p.start <= t && t < p.end {
					taken.add(1, p.chosen)
				}
			}
			m.atMost(taken, fixed(1))
		}
		if m.setups(stage) {
			m.addSetups(stage, position, here)
		}
		m.placings = append(m.placings, here...)
	}
	for _, w := range works {
		m.count(w)
	}
}

// placingsOf returns every way to place some work at a position.
func (m *model) placingsOf(w *work, position int, clock clock) (all []*placing) {
	for t := range m.end {
		if clock[t] == 0 {
			continue
		}
		if end, ok := clock.after(t, w.slots); ok {
			all = append(all, &placing{work: w, position: position, start: t, end: end, chosen: m.choice()})
		}
		if !m.setups(w.stage) {
			continue
		}
		if end, ok := clock.after(t, w.slots+m.whole(float64(m.s.Stations.At(w.stage).SetupMinutes))); ok {
			all = append(all, &placing{work: w, position: position, setup: true, start: t, end: end, chosen: m.choice()})
		}
	}
	return all
}

// count ties the counts of some work to where it is placed.
func (m *model) count(w *work) {
	starts, ends := make([]sum, m.end), make([]sum, m.end+1)
	for _, p := range m.placings {
		if p.work == w {
			starts[p.start].add(1, p.chosen)
			ends[p.end].add(1, p.chosen)
		}
	}
	w.begun, w.ended = m.tally(w.most, starts), m.tally(w.most, ends)
}
