package ovens

// kick searches for so many steps about the best turns: some loads change places by
// chance, and from there it goes down to where neither another turn of a load nor
// another change of places is cheaper; and so on from there, now and then from the best
// again. That finds what is a few loads away, which an annealing often passes by.
func (a *annealing) kick(steps int) {
	for steps > 0 && a.least > 0 && !a.stopped() {
		if a.r.IntN(kicksFromBest) == 0 {
			a.restore(a.best)
		}
		d := descent{a, steps - a.disturb()}
		for d.round() {
		}
		steps = d.left
	}
}

// disturb has some loads change places, and returns how many tries that took.
func (a *annealing) disturb() (tries int) {
	for range leastKicks + a.r.IntN(moreKicks) {
		tries++
		if swapLoads(a.state, a.r) {
			a.try()
			a.keep()
		} else {
			a.discard()
		}
	}
	return tries
}

// A kick is three to six changes of places; one in four begins at the best turns.
const (
	leastKicks    = 3
	moreKicks     = 4
	kicksFromBest = 4
)

// A descent goes down for as many steps as are left.
type descent struct {
	*annealing
	left int
}

// round tries every other turn of each load in its oven, and every change of places.
// It reports whether any was cheaper, and steps are left.
func (d *descent) round() bool {
	cheaper := false
	for o := range d.turns {
		for i := range d.turns[o] {
			cheaper = d.otherTurns(o, i) || cheaper
		}
	}
	for o := range d.turns {
		for i := range d.turns[o] {
			cheaper = d.otherPlaces(o, i) || cheaper
		}
	}
	return cheaper && d.left > 0
}

// otherTurns tries every other turn, in its oven, of the load that has the i-th.
func (d *descent) otherTurns(oven, i int) (cheaper bool) {
	for j := 0; j < len(d.turns[oven]) && d.left > 0; j++ {
		cheaper = i != j && d.better(d.reinsert(oven, i, j)) || cheaper
	}
	return cheaper
}

// otherPlaces tries to let the load that has the i-th turn of an oven change places
// with every one before it, those of the ovens before included.
func (d *descent) otherPlaces(oven, i int) (cheaper bool) {
	for o := range oven + 1 {
		for j := 0; j < len(d.turns[o]) && d.left > 0; j++ {
			cheaper = (o < oven || j < i) && d.better(d.swap(d.turns[oven][i], d.turns[o][j])) || cheaper
		}
	}
	return cheaper
}

// reinsert drafts the i-th load of an oven as the j-th.
func (s *state) reinsert(oven, i, j int) bool {
	l := s.turns[oven][i]
	s.drop(l)
	s.put(l, j)
	return true
}

// better keeps a drafted change if it is cheaper, and takes a step for it.
func (d *descent) better(drafted bool) bool {
	if d.left--; !drafted {
		d.discard()
		return false
	}
	if before := d.total; d.try() >= before {
		d.undo()
		return false
	}
	d.keep()
	d.note()
	return true
}
