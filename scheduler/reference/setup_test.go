package reference_test

import (
	"maps"
	"slices"

	"blankwright/scheduler/shop"
)

// addSetups has a set-up wherever a position's key changes, and nowhere else (R7).
func (m *model) addSetups(stage shop.Stage, position int, here []*placing) {
	now := m.keyAtNow(stage, position)
	keys := map[string]bool{}
	for _, p := range here {
		keys[p.key] = true
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		state := yes(key == now)
		for t := range m.end {
			state = m.nextState(state, key, here, t)
			if released, ok := m.keyReleased(stage, position, t); ok {
				state = yes(key == released)
			}
		}
	}
}

func yes(is bool) sum {
	if is {
		return fixed(1)
	}
	return fixed(0)
}

// nextState judges what may start in a slot at a position that is set up for a key,
// or is not, and returns whether it then is.
func (m *model) nextState(state sum, key string, here []*placing, t int) sum {
	mine, others := sum{}, sum{}
	for _, p := range here {
		switch {
		case p.start != t:
		case p.key != key:
			others.add(1, p.chosen)
		case p.setup:
			mine.add(1, p.chosen)
			m.atMost(p.chosen.plus(1, state), fixed(1))
		default:
			mine.add(1, p.chosen)
			m.atMost(p.chosen, state)
		}
	}
	if len(mine.terms)+len(others.terms) == 0 {
		return state
	}
	next := m.choice()
	m.atMost(mine, next)
	m.atMost(next.plus(1, others), fixed(1))
	m.atMost(next, state.plus(1, mine))
	m.atMost(state.plus(-1, others), next)
	return next
}

// keyAtNow returns what a position is set up for at now: by the last released task
// that has begun there, else by the file.
func (m *model) keyAtNow(stage shop.Stage, position int) (key string) {
	station := m.s.Stations.At(stage)
	if position <= len(station.LastSetup) && station.LastSetup[position-1] != nil {
		key = *station.LastSetup[position-1]
	}
	var last *fixedTask
	for _, t := range m.released {
		if t.Stage == stage && t.Position == position && t.start < 0 && (last == nil || t.start > last.start) {
			last, key = t, keyOf(t.Task, t.section)
		}
	}
	return key
}

// keyReleased returns the key of the released task that begins at a position in a
// slot.
func (m *model) keyReleased(stage shop.Stage, position, slot int) (key string, ok bool) {
	for _, t := range m.released {
		if t.Stage == stage && t.Position == position && t.start == slot {
			return keyOf(t.Task, t.section), true
		}
	}
	return "", false
}

// keyOf returns what a position is set up for when it works on a task; "" where
// nothing is.
func keyOf(t *shop.Task, s *section) string {
	switch t.Stage {
	case shop.Cut:
		return t.Prepreg
	case shop.Tack:
		return s.Mandrel
	case shop.Wrap:
		return s.Tape
	}
	return ""
}
