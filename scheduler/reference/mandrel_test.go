package reference_test

import "blankwright/scheduler/shop"

// addMandrels lets no more mandrels of a type be out than there are (R9): from the
// start of tacking until they are cleaned after the pull.
func (m *model) addMandrels() {
	if m.without == "R9" {
		return
	}
	for k := range m.s.MandrelTypes {
		kind := &m.s.MandrelTypes[k]
		for t := range m.end {
			out, pulled := sum{}, m.pulledFor(kind, t)
			for _, b := range m.batches {
				if b.Mandrel == kind.ID {
					out.add(b.pieces, at(b.after[shop.Tack].begun, t))
					out.add(-b.pieces, at(b.after[shop.Pull].ended, pulled))
				}
			}
			m.atMost(out, fixed(max(0, m.mandrels(kind.ID, t)-m.mandrelsReleased(kind.ID, t, pulled))))
		}
	}
}

// pulledFor returns the slot by which a mandrel must be pulled to be clean at another;
// 0, at which nothing has been pulled, where none is early enough.
func (m *model) pulledFor(kind *shop.MandrelType, t int) int {
	clock := m.clock(m.s.Stations.Pull.Calendar)
	for pulled := t; pulled > 0; pulled-- {
		if clean, ok := clock.after(pulled, m.whole(float64(kind.TurnaroundMinutes))); ok && clean <= t {
			return pulled
		}
	}
	return 0
}

func (m *model) mandrels(kind string, t int) (n int) {
	for i := range m.s.Mandrels {
		if mandrel := &m.s.Mandrels[i]; mandrel.Type == kind && mandrel.State == shop.Ready && m.since(mandrel.ReadyAt) <= t {
			n++
		}
	}
	return n
}

// mandrelsReleased counts what released work has out in a slot. In small shops it
// was all tacked before now, and will be pulled.
func (m *model) mandrelsReleased(kind string, t, pulled int) (n int) {
	for _, task := range m.holding {
		switch {
		case task.section.Mandrel != kind:
		case task.Stage == shop.Tack && task.start <= t:
			n += task.Pieces
		case task.Stage == shop.Pull && task.end <= pulled:
			n -= task.Pieces
		}
	}
	return n
}
