package reference_test

import "blankwright/scheduler/shop"

// A fixedTask is a released task in slots.
type fixedTask struct {
	*shop.Task
	section    *section
	start, end int
}

// addReleased adds the released work, and what it holds (R15).
func (m *model) addReleased() {
	if m.s.Released == nil {
		return
	}
	for i := range m.s.Released.Tasks {
		t := &m.s.Released.Tasks[i]
		for _, s := range m.sections {
			if s.ID == t.Section {
				m.released = append(m.released, &fixedTask{Task: t, section: s, start: m.slot(t.Start), end: m.slot(t.End)})
			}
		}
	}
	if m.without != "R15" {
		m.holding = m.released
	}
}

func (m *model) releasedLoads() []shop.Load {
	if m.s.Released == nil {
		return nil
	}
	return m.s.Released.Loads
}

// loadsHolding returns the released loads as far as they hold ovens and racks.
func (m *model) loadsHolding() []shop.Load {
	if m.without == "R15" {
		return nil
	}
	return m.releasedLoads()
}

// releasedAt counts the positions of a stage that released tasks take in a slot.
func (m *model) releasedAt(stage shop.Stage, slot int) (n int) {
	for p := range m.s.Stations.At(stage).Positions {
		n += m.releasedOn(stage, p+1, slot)
	}
	return n
}

// releasedOn returns 1 where released tasks take a position in a slot, else 0.
func (m *model) releasedOn(stage shop.Stage, position, slot int) int {
	for _, t := range m.holding {
		if t.Stage == stage && t.Position == position && t.start <= slot && slot < t.end {
			return 1
		}
	}
	return 0
}
