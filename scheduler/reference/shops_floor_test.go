package reference_test

import (
	"fmt"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// addStations gives each stage a position or two. Wrapping goes on around the clock
// where green time is short, and trimming where holding costs (see addPolicy): the
// end of either may have to come late, and is then no minute after a pause.
func (m *maker) addStations() {
	for _, stage := range shop.Stages() {
		*m.s.Stations.At(stage) = shop.Station{Positions: pick(m, 1, 1, 2), Calendar: "day"}
	}
	if m.s.Policy.MaxGreenMinutes < 24*hour {
		m.s.Stations.Wrap.Calendar = "always"
	}
	if m.s.Policy.HoldCost > 0 {
		m.s.Stations.Trim.Calendar = "always"
	}
	if m.maybe(60) {
		stage := pick(m, shop.Cut, shop.Tack, shop.Wrap)
		station := m.s.Stations.At(stage)
		station.SetupMinutes = hour
		if key := pick(m, map[shop.Stage][]string{shop.Cut: {"fibre", "scrim"}, shop.Tack: {"long", "short"}, shop.Wrap: {"tape", "film"}}[stage]...); m.maybe(60) {
			station.LastSetup = []*string{&key}
		}
	}
}

// addCures makes two resins, of which the second bears no steep ramp, and three
// profiles: one that is too steep for it, one that suits both, and one too hot for
// the first.
func (m *maker) addCures() {
	m.s.Resins = []shop.Resin{
		{ID: "quick", MaxRampCPerMin: 2, MaxC: 90, Soak: []shop.SoakPoint{{C: 60, Minutes: 240}, {C: 80, Minutes: 60}}},
		{ID: "slow", MaxRampCPerMin: 1, MaxC: 150, Soak: []shop.SoakPoint{{C: 80, Minutes: 120}, {C: 140, Minutes: 60}}},
	}
	m.s.Tapes = []shop.Tape{{ID: "tape", ShrinkFromC: 70, MaxC: 150}, {ID: "film", ShrinkFromC: 60, MaxC: 100}}
	m.s.Profiles = []shop.Profile{
		{ID: "short", Segments: []shop.Segment{{RampCPerMin: 2, ToC: 80, SoakMinutes: 90}}, CoolCPerMin: 1, CoolToC: 20, RestMinutes: 0},
		{ID: "long", Segments: []shop.Segment{{RampCPerMin: 1, ToC: 80, SoakMinutes: 120}}, CoolCPerMin: 1, CoolToC: 20, RestMinutes: hour},
		{ID: "hot", Segments: []shop.Segment{{RampCPerMin: 1, ToC: 140, SoakMinutes: 60}}, CoolCPerMin: 2, CoolToC: 20, RestMinutes: 0},
	}
	m.s.Prepregs = []shop.Prepreg{
		{ID: "fibre", Resin: "slow", MaxOpenMinutes: pick(m, 9, 30, 60) * hour, NestYield: 0.8},
		{ID: "scrim", Resin: "quick", MaxOpenMinutes: pick(m, 10, 32, 60) * hour, NestYield: 0.5},
	}
}

func (m *maker) addOvens() {
	m.s.Ovens = nil
	for i := range pick(m, 1, 1, 2) {
		oven := shop.Oven{
			ID: fmt.Sprintf("oven %d", i+1), Bays: pick(m, 1, 1, 2), HeightMM: 2000, MaxKg: float64(pick(m, 12, 15, 30)),
			Profiles: pick(m, []string{"long"}, []string{"short", "long"}, []string{"short", "long", "hot"}),
			Calendar: pick(m, "day", "long day"), LoadMinutes: hour, UnloadMinutes: hour,
			LagMinutesPerKg: pick(m, 0.0, 0.0, 20.0), RunCost: float64(pick(m, 5, 10, 20)), HourCost: pick(m, 0.0, 1.0),
		}
		oven.Unattended = oven.Calendar == "day" || m.maybe(50)
		m.s.Ovens = append(m.s.Ovens, oven)
	}
}

// addRacks makes a tall rack and, in some shops, a short one of two levels.
func (m *maker) addRacks() {
	level := func(clear float64) shop.Level { return shop.Level{ClearMM: clear, Pegs: m.between(2, 3), PitchMM: 20} }
	m.s.Racks = []shop.Rack{{
		ID: "tall", Count: pick(m, 1, 2), TareKg: 3, MaxKg: float64(pick(m, 6, 12)),
		Setups: []shop.Setup{{ID: "one", OuterHeightMM: 1800, Levels: []shop.Level{level(1600)}}},
	}}
	if m.maybe(50) {
		two := shop.Setup{ID: "two", OuterHeightMM: 1700, Levels: []shop.Level{level(700), level(700)}}
		m.s.Racks[0].Setups = append(m.s.Racks[0].Setups, two)
	}
	if m.maybe(40) {
		m.s.Racks = append(m.s.Racks, shop.Rack{
			ID: "short", Count: 1, TareKg: 3, MaxKg: 9,
			Setups: []shop.Setup{{ID: "low", OuterHeightMM: 900, Levels: []shop.Level{level(700)}}},
		})
	}
}

func (m *maker) addMandrels() {
	m.s.MandrelTypes, m.s.Mandrels = nil, nil
	for i, kind := range []string{"long", "short", "thick"} {
		m.s.MandrelTypes = append(m.s.MandrelTypes, shop.MandrelType{
			ID: kind, HangMM: []float64{1500, 600, 600}[i], Kg: 2, TurnaroundMinutes: pick(m, 0, 1, 2) * hour,
		})
		shoptest.AddMandrels(m.s, kind, m.between(1, 3))
	}
	if m.maybe(40) {
		at := m.hours(m.between(1, 20))
		m.s.Mandrels[m.IntN(len(m.s.Mandrels))].ReadyAt = &at
	}
	if m.maybe(20) {
		m.s.Mandrels[0].State = "recoating"
	}
}

// addCrews lets some stages, and ovens, share people.
func (m *maker) addCrews() {
	if m.maybe(40) {
		return
	}
	m.s.Crews = []shop.Crew{{ID: "crew", Shifts: []shop.Shift{{Calendar: "long day", People: 1}}}}
	if m.maybe(40) {
		m.s.Crews[0].Shifts = append(m.s.Crews[0].Shifts, shop.Shift{Calendar: "day", People: 1})
	}
	for _, stage := range shop.Stages() {
		if m.maybe(50) && m.s.Stations.At(stage).Calendar == "day" {
			m.s.Stations.At(stage).Crew, m.s.Stations.At(stage).People = "crew", 1
		}
	}
	if oven := &m.s.Ovens[0]; m.maybe(25) {
		oven.Crew, oven.People = "crew", 1
	}
}

// addTroubles closes an oven or a position for a while, and has others busy.
func (m *maker) addTroubles() {
	if m.maybe(40) {
		from := m.between(0, 30)
		resource := pick(m, "oven:oven 1", "roll", "tack/1", "pull/1", "strip")
		m.s.Downtime = append(m.s.Downtime, shop.Downtime{Resource: resource, From: m.hours(from), To: m.hours(from + m.between(2, 8)), Why: "repair"})
	}
	if m.maybe(25) {
		until := m.hours(m.between(2, 12))
		m.s.Ovens[0].BusyUntil = &until
	}
	if m.maybe(20) {
		m.s.Racks[0].BusyUntil = []shop.Instant{m.hours(m.between(2, 12))}
	}
	if m.maybe(20) {
		p := &m.s.Products[0]
		m.s.Incoming = append(m.s.Incoming, shop.Incoming{Section: p.Sections[0].ID, Pieces: 1, At: m.hours(m.between(-3, 30))})
	}
}

// release puts a piece in an oven since before now, with all of its tasks.
func (m *maker) release() {
	section, oven := &m.s.Products[0].Sections[0], &m.s.Ovens[0]
	out := m.between(6, 14)
	load := shop.Load{
		ID: "L0", Oven: oven.ID, Profile: oven.Profiles[0], In: m.hours(-3), CureStart: m.hours(-2), CureEnd: m.hours(out - 1), Out: m.hours(out),
		Racks: []shop.RackUse{{Rack: m.s.Racks[0].ID, Setup: m.s.Racks[0].Setups[0].ID, Levels: [][]shop.Hang{{{Section: section.ID, Pieces: 1}}}}},
	}
	m.s.Released = &shop.Released{Loads: []shop.Load{load}}
	start := -70 // last week's Friday
	for _, stage := range shop.Stages() {
		if stage == shop.Pull {
			start = out + 1
		}
		for i, f := range section.Flags {
			task := shop.Task{Load: "L0", Section: section.ID, Stage: stage, Position: 1, Pieces: 1, Start: m.hours(start), End: m.hours(start + 1)}
			if stage == shop.Cut {
				task.Prepreg = f.Prepreg
			}
			if i == 0 || stage == shop.Cut && f.Prepreg != section.Flags[0].Prepreg {
				m.s.Released.Tasks = append(m.s.Released.Tasks, task)
				start++
			}
		}
	}
}
