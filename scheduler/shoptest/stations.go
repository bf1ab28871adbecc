package shoptest

import "blankwright/scheduler/shop"

// stationLoad says of each stage how many minutes a piece takes there, about,
// and how many minutes a set-up takes.
var stationLoad = [shop.StageCount]struct {
	perPiece float64
	setup    int
}{{1.6, 6}, {2.2, 3}, {1.2, 0}, {2.2, 8}, {1.1, 0}, {1.1, 0}, {1.1, 0}}

// addStations makes stations for the shop's pace, and the people for them.
func (m *maker) addStations() {
	working := 0
	for _, stage := range shop.Stages() {
		load := stationLoad[stage]
		st := m.s.Stations.At(stage)
		*st = shop.Station{Positions: share(m.pace()*load.perPiece, 200) + m.extra(), Calendar: "floor", SetupMinutes: load.setup}
		if m.maybe() {
			st.SetupMinutes = m.between(0, 15)
		}
		working += st.Positions
	}
	m.addCrews(working)
	m.addLastSetups()
}

func (m *maker) extra() int {
	if m.tiny {
		return 0
	}
	return m.between(0, 1)
}

// addCrews makes one or two crews, in a shop without haste by chance none, and
// lets stations and ovens draw from them. Any crew has people enough for the most demanding of its tasks, in
// the floor's hours.
func (m *maker) addCrews(working int) {
	if m.pace() < 20 && m.chance(0.4) {
		return
	}
	ids := some(m.dice, []string{"hands", "finishers"}, m.odd)
	for _, id := range ids {
		people := max(3, share(float64(working), 1.5*float64(len(ids))))
		crew := shop.Crew{ID: id, Shifts: []shop.Shift{{Calendar: "floor", People: people}}}
		if m.maybe() {
			crew.Shifts = append(crew.Shifts, shop.Shift{Calendar: "site", People: 1})
		}
		m.s.Crews = append(m.s.Crews, crew)
	}
	for _, stage := range shop.Stages() {
		if st := m.s.Stations.At(stage); m.chance(0.85) {
			st.Crew, st.People = pick(m.dice, ids...), 1
			if m.chance(0.2 * m.odd) {
				st.People = 2
			}
		}
	}
	for i := range m.s.Ovens {
		if o := &m.s.Ovens[i]; m.chance(0.7) {
			o.Crew, o.People = ids[0], m.between(1, 2)
		}
	}
}

// addLastSetups says what the positions are set up for, of some of them only.
func (m *maker) addLastSetups() {
	section := func() shop.Section { return pick(m.dice, pick(m.dice, m.s.Products...).Sections...) }
	keys := map[shop.Stage]func() string{
		shop.Cut:  func() string { return pick(m.dice, m.s.Prepregs...).ID },
		shop.Tack: func() string { return section().Mandrel },
		shop.Wrap: func() string { return section().Tape },
	}
	for _, stage := range shop.Stages() {
		if keys[stage] == nil || !m.maybe() {
			continue
		}
		st := m.s.Stations.At(stage)
		for range m.between(1, st.Positions) {
			var key *string
			if m.chance(0.7) {
				k := keys[stage]()
				key = &k
			}
			st.LastSetup = append(st.LastSetup, key)
		}
	}
}
