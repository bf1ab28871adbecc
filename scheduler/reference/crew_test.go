package reference_test

import "blankwright/scheduler/shop"

// addCrews lets no more people be needed than are there (R11).
func (m *model) addCrews() {
	if m.without == "R11" {
		return
	}
	for i := range m.s.Crews {
		crew := &m.s.Crews[i]
		for t := range m.end {
			needed := m.neededAtStations(crew.ID, t).plus(1, m.neededAtOvens(crew.ID, t))
			m.atMost(needed, fixed(max(0, m.people(crew, t)-m.peopleReleased(crew.ID, t))))
		}
	}
}

func (m *model) people(crew *shop.Crew, t int) (n int) {
	for _, shift := range crew.Shifts {
		if m.clock(shift.Calendar)[t] > 0 {
			n += shift.People
		}
	}
	return n
}

func (m *model) neededAtStations(crew string, t int) (n sum) {
	for _, stage := range shop.Stages() {
		if station := m.s.Stations.At(stage); station.Crew == crew {
			n.add(station.People, m.worked(stage, t))
		}
	}
	return n
}

// worked counts the tasks that are worked at a stage in a slot.
func (m *model) worked(stage shop.Stage, t int) (n sum) {
	placed := false
	for _, p := range m.placings {
		if p.stage == stage {
			placed = true
			if p.start <= t && t < p.end && m.stationClock(stage, p.position)[t] > 0 {
				n.add(1, p.chosen)
			}
		}
	}
	if !placed && m.stationClock(stage, 1)[t] > 0 {
		return busy(m.worksAt(stage), t)
	}
	return n
}

func (m *model) neededAtOvens(crew string, t int) (n sum) {
	for _, s := range m.stays {
		if oven := &m.s.Ovens[s.oven]; oven.Crew == crew && m.handled(oven, s.in, s.out, t) {
			n.add(oven.People, s.taken)
		}
	}
	return n
}

// handled reports whether an oven is being loaded or unloaded in a slot.
func (m *model) handled(oven *shop.Oven, in, out, t int) bool {
	load, unload := m.whole(float64(oven.LoadMinutes)), m.whole(float64(oven.UnloadMinutes))
	return in <= t && t < in+load || out-unload <= t && t < out
}

// peopleReleased counts the people whom released work needs of a crew in a slot.
func (m *model) peopleReleased(crew string, t int) (n int) {
	for _, task := range m.holding {
		station := m.s.Stations.At(task.Stage)
		if station.Crew == crew && task.start <= t && t < task.end && m.stationClock(task.Stage, task.Position)[t] > 0 {
			n += station.People
		}
	}
	for _, l := range m.loadsHolding() {
		for o := range m.s.Ovens {
			oven := &m.s.Ovens[o]
			if oven.ID == l.Oven && oven.Crew == crew && m.handled(oven, m.slot(l.In), m.slot(l.Out), t) {
				n += oven.People
			}
		}
	}
	return n
}
