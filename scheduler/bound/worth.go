package bound

import "blankwright/scheduler/instance"

// loadsByWorth gives each piece a worth such that no load holds pieces worth more
// than it costs. So whatever the loads are, they cost at least what all pieces
// are worth. The worths come from a linear programme and are then proven.
func loadsByWorth(in *instance.Instance) makeBound {
	f := newLoadFloor(in)
	b := newMakeBound(in)
	b.worth = newLoadProgramme(f, f.prices(), nil).solved()
	for s, n := range f.need {
		b.add(in, s, n, b.worth[s]+lagCost(in, s))
	}
	return b
}

// mostRows is how many sections a shop may have for loads to be counted by a
// programme: in larger ones, a part of a load is a small part of all.
const mostRows = 60

// loadsByWorthAndCount gives a worth to loads, too: there are whole numbers of them,
// and at least so many of each group.
func loadsByWorthAndCount(in *instance.Instance) makeBound {
	f := newLoadFloor(in)
	b := newMakeBound(in)
	if len(f.needed()) > mostRows {
		return b
	}
	counts := f.counts()
	var loads []int
	for g := range counts {
		loads = append(loads, counts[g].bins)
	}
	l := newLoadProgramme(f, f.prices(), loads)
	worth := l.solved()
	for s, n := range f.need {
		b.add(in, s, n, worth[s]+lagCost(in, s))
	}
	for g, price := range l.loadsOf(worth) {
		f.charge(&b, g, price, &counts[g])
	}
	return b
}
