package line

import "blankwright/scheduler/rack"

// rehang hangs a load that would be out by an instant on other racks, which are free
// sooner than its own. It reports false, and changes nothing, where there are none.
func (t *Timetable) rehang(l *Load, o *outlook, out Tick) bool {
	if l.ways == nil {
		l.ways = t.waysOf(l)
	}
	soonest, racks := t.freeFrom(l.Racks, out), l.Racks
	for _, way := range l.ways {
		if at := t.freeFrom(way, out); at < soonest {
			soonest, racks = at, way
		}
	}
	if &racks[0] == &l.Racks[0] {
		return false
	}
	t.hang(l, racks)
	o.addRacks(l)
	return true
}

// hangFirst hangs a load on its own racks again, so that where it comes to stand does
// not depend on where it stood before.
func (t *Timetable) hangFirst(l *Load) {
	if l.ways != nil {
		t.hang(l, l.ways[0])
	}
}

func (t *Timetable) hang(l *Load, racks []rack.Rack) {
	l.Racks = racks
	l.Kg = t.in.Hanger.Kg(l.Runs) + rack.Tare(racks)
}

// waysOf returns the ways to hang a load with which it takes as long to cure, its
// own first.
func (t *Timetable) waysOf(l *Load) [][]rack.Rack {
	ways := [][]rack.Rack{l.Racks}
	for _, racks := range t.in.Ovens[l.Oven].Room.Others(l.Runs, l.Racks) {
		if t.in.CureMinutes(l.Oven, l.Profile, t.in.Hanger.Kg(l.Runs)+rack.Tare(racks)) == l.Cure {
			ways = append(ways, racks)
		}
	}
	return ways
}

// freeFrom returns from when on racks are free up to an instant.
func (t *Timetable) freeFrom(racks []rack.Rack, to Tick) (at Tick) {
	for i, r := range racks {
		n := 1
		for _, other := range racks[:i] {
			if other.Kind.Rack == r.Kind.Rack {
				n++
			}
		}
		at = max(at, t.racks[r.Kind.Rack].freeFrom(n, to))
	}
	return at
}
