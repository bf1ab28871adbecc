package search

import (
	"cmp"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/search/move"
)

// A Trace tells how a search went. It is the same for the same search,
// whatever the number of processors; of one that was stopped, what it tells is
// true but hangs on the clock.
type Trace struct {
	Iterations int     // of all islands together
	Hurried    bool    // time was shorter than the effort, and hurried the search on
	Moves      []Tally // in the order of move.All, over all islands
	Points     []Point // by heat, then by island, then by iteration
	Filled     bool    // the effort was spent before the time, and the search went on
	// Adopted is by how much islands' best answers fell as they took over others', summed.
	Adopted answer.Money
}

// A Tally counts what one move did. Drawn, over all moves, makes up the
// iterations; each count after it is a part of the one before.
type Tally struct {
	Move     string
	Drawn    int // how often it was its turn
	Proposed int // it found a change to propose
	Placed   int // the timetable had room for that
	Kept     int // it was not undone
	Bettered int // its island had no better answer before
	// Gain is by how much it bettered the best answer of its island, summed: over all
	// moves, and with what is adopted, what lies between an island's first answer and
	// its best.
	Gain answer.Money
}

// A Point is where an island stands after so many iterations of its own.
type Point struct {
	Heat, Island, Iteration int // heats count from 1, islands from 0
	Best, Current           answer.Money
}

// pointsPerHeat is how many points are taken down of an island's heat, about.
const pointsPerHeat = 50

func newTallies() []Tally {
	tallies := make([]Tally, len(move.All()))
	for i, m := range move.All() {
		tallies[i].Move = m.Name()
	}
	return tallies
}

func (t *Tally) add(other *Tally) {
	t.Drawn += other.Drawn
	t.Proposed += other.Proposed
	t.Placed += other.Placed
	t.Kept += other.Kept
	t.Bettered += other.Bettered
	t.Gain += other.Gain
}

// point takes down where an island stands; of a place where it has been before, where
// it stands now.
func (is *island) point() {
	p := Point{is.heats, is.number, is.done, is.best, is.a.Cost().Total()}
	if n := len(is.points); n > 0 && is.points[n-1].Heat == p.Heat && is.points[n-1].Iteration == p.Iteration {
		is.points = is.points[:n-1]
	}
	is.points = append(is.points, p)
}

// trace gathers what the islands took down, those that gave up included.
func (s *search) trace() *Trace {
	t := &Trace{Iterations: int(s.done.Load()), Hurried: s.pace.hurried.Load(), Moves: newTallies(), Filled: s.filled}
	for _, is := range s.all {
		for i := range is.tallies {
			t.Moves[i].add(&is.tallies[i])
		}
		t.Points = append(t.Points, is.points...)
		t.Adopted += is.adopted
	}
	slices.SortStableFunc(t.Points, func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.Heat, b.Heat), cmp.Compare(a.Island, b.Island))
	})
	return t
}
