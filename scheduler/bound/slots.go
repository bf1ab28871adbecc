package bound

import (
	"math"
	"slices"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Slots say how an oven's time goes by: from each of its cells, which are some
// minutes long, in which cell a load of each way can be out again at the earliest,
// and what pieces it can have. Whatever falls into a cell counts as if it were
// wherever in it that is best.
type slots struct {
	ways  []int     // of a list
	next  [][]int32 // by way, then cell; never where the horizon comes first
	class [][]int32 // by way, then cell
}

// A class is loads that can have the same pieces, at the same price of being late:
// those that can be wrapped before an instant, as far as this counts, and done by
// a day.
type class struct{ arrived, day int }

// A timetable is the slots of all ovens.
type timetable struct {
	in       *instance.Instance
	ways     []wayKinds
	arrivals []instance.Tick // at which pieces of some section are wrapped at the earliest
	ovens    []slots
	classes  []class
	numbers  map[class]int32
	work     [shop.StageCount]instance.Tick // the least that a task takes
}

// A wayKinds is a way and its kinds of loads, and which of them are tried.
type wayKinds struct {
	instance.Way
	kinds []loadKind
	tried []int
}

// byWay gathers kinds of loads by their ways.
func byWay(kinds []loadKind) (ways []wayKinds) {
	for i := range kinds {
		if n := len(ways); n == 0 || ways[n-1].Way != kinds[i].way {
			ways = append(ways, wayKinds{Way: kinds[i].way})
		}
		w := &ways[len(ways)-1]
		w.tried = append(w.tried, len(w.kinds))
		w.kinds = append(w.kinds, kinds[i])
	}
	return ways
}

const (
	never = -1
	// cellsInLoad is how many cells the shortest load spans, if there may be so many.
	cellsInLoad = 16
	maxCells    = 20000
)

// newTimetable returns the slots of all ovens; ok is false where a load is too short
// for the horizon.
func newTimetable(in *instance.Instance, ways []wayKinds, arrivals []instance.Tick) (t *timetable, ok bool) {
	t = &timetable{in: in, ways: ways, arrivals: arrivals, numbers: map[class]int32{}, work: quickestWork(in)}
	for o := range in.Ovens {
		if !t.addOven(o) {
			return nil, false
		}
	}
	return t, true
}

func (t *timetable) addOven(oven int) bool {
	var s slots
	shortest := instance.Never
	var cures []instance.Tick
	for i := range t.ways {
		if t.ways[i].Oven == oven {
			s.ways = append(s.ways, i)
			cures = append(cures, shortestCure(t.in, &t.ways[i]))
			shortest = min(shortest, t.in.Ovens[oven].Load+cures[len(cures)-1]+t.in.Ovens[oven].Unload)
		}
	}
	cell := max(1, shortest/cellsInLoad, t.in.Horizon/maxCells)
	if cell > shortest {
		return false
	}
	for i, w := range s.ways {
		t.follow(&s, &t.ways[w].Way, cures[i], cell)
	}
	s.merge()
	t.ovens = append(t.ovens, s)
	return true
}

// merge makes one of cells in a row from which all is the same.
func (s *slots) merge() {
	if len(s.ways) == 0 {
		return
	}
	became := make([]int32, len(s.next[0]))
	kept := 0
	for k := range became {
		if kept == 0 || !s.alike(k-1, k) {
			for i := range s.ways { // what is kept lies at or before what is read
				s.next[i][kept], s.class[i][kept] = s.next[i][k], s.class[i][k]
			}
			kept++
		}
		became[k] = int32(kept - 1)
	}
	for i := range s.ways {
		s.next[i], s.class[i] = s.next[i][:kept], s.class[i][:kept]
		for k, next := range s.next[i] {
			if next != never {
				s.next[i][k] = became[next]
			}
		}
	}
}

func shortestCure(in *instance.Instance, w *wayKinds) instance.Tick {
	tare := math.Inf(1)
	for i := range w.kinds {
		tare = min(tare, w.kinds[i].racks.tare)
	}
	return in.CureMinutes(w.Oven, w.Profile, tare)
}

func (s *slots) alike(a, b int) bool {
	for i := range s.ways {
		if s.next[i][a] != s.next[i][b] || s.class[i][a] != s.class[i][b] {
			return false
		}
	}
	return true
}

// follow adds a way to an oven's slots.
func (t *timetable) follow(s *slots, way *instance.Way, cure, cell instance.Tick) {
	cells := t.in.Horizon/cell + 1
	next, classes := make([]int32, cells), make([]int32, cells)
	start, out, day := instance.Tick(-1), instance.Never, never
	for k := range next {
		if from := k * cell; from > start { // else the load waits till then, too
			start, out = alone.Cured(t.in, way.Oven, cure, from)
			day = t.doneDay(out + t.in.Profiles[way.Profile].Rest)
		}
		if next[k] = never; day != never {
			arrived, _ := slices.BinarySearch(t.arrivals, max((k+1)*cell, start+1))
			next[k], classes[k] = int32(out/cell), t.number(class{arrived, day})
		}
	}
	s.next, s.class = append(s.next, next), append(s.class, classes)
}

func (t *timetable) number(c class) int32 {
	n, ok := t.numbers[c]
	if !ok {
		n = int32(len(t.classes))
		t.numbers[c] = n
		t.classes = append(t.classes, c)
	}
	return n
}

// quickestWork returns the least that a task takes, by stage.
func quickestWork(in *instance.Instance) (work [shop.StageCount]instance.Tick) {
	for stage := range work {
		work[stage] = instance.Never
		for s := range in.Sections {
			work[stage] = min(work[stage], max(1, in.Work(shop.Stage(stage), s, 0, 1)))
		}
	}
	return work
}

// doneDay returns the day on which a piece can be trimmed that may be pulled from an
// instant on.
func (t *timetable) doneDay(at instance.Tick) int {
	for _, stage := range []shop.Stage{shop.Pull, shop.Strip, shop.Trim} {
		if at >= t.in.Horizon {
			return never
		}
		best := instance.Never
		for _, p := range t.in.Stations[stage].Positions {
			if start := p.Next(at); start < instance.Never {
				best = min(best, p.Ahead(start, t.work[stage]))
			}
		}
		at = best
	}
	if at > t.in.Horizon {
		return never
	}
	return t.in.Day(at)
}
