package ovens

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/instance"
)

// A move drafts one change of a state; false where it finds none.
type move func(s *state, r *rand.Rand) bool

var moves = []move{moveLoad, swapLoads, moveLot, swapLots, partLot, mergeLoads}

// moveLoad gives a load another turn, of any oven and profile that cure it.
func moveLoad(s *state, r *rand.Rand) bool {
	l := s.pick(r)
	ways := s.p.lots[l.lots[0]].ways
	next := s.under(l, ways[r.IntN(len(ways))])
	if next == nil || next == l && len(s.turns[l.oven]) == 1 {
		return false
	}
	at := s.drop(l)
	switch {
	case next.oven != l.oven:
		at = s.turnAbout(r, next.oven, l.in)
	case next == l:
		at = otherTurn(r, at, len(s.turns[l.oven])-1)
	}
	s.put(next, at)
	return true
}

// otherTurn draws a turn among so many loads other than the one at which a gap was
// left, half of the time near it.
func otherTurn(r *rand.Rand, gap, loads int) int {
	to := r.IntN(loads)
	if r.IntN(2) == 0 {
		to = min(max(0, gap-nearTurns+r.IntN(2*nearTurns)), loads-1)
	}
	if to >= gap {
		to++
	}
	return to
}

// nearTurns is how many turns away is near.
const nearTurns = 3

// turnAbout draws a turn of an oven, mostly about that which is at an instant.
func (s *state) turnAbout(r *rand.Rand, oven int, at Tick) int {
	loads := *s.open(oven)
	if r.IntN(3) == 0 {
		return r.IntN(len(loads) + 1)
	}
	i, _ := slices.BinarySearchFunc(loads, at, func(l *load, t Tick) int { return l.in - t })
	return min(max(0, i-1+r.IntN(3)), len(loads))
}

// swapLoads lets two loads take each other's turn.
func swapLoads(s *state, r *rand.Rand) bool {
	return s.swap(s.pick(r), s.pick(r))
}

// swap is swapLoads of two loads.
func (s *state) swap(x, y *load) bool {
	if x == y || !s.p.offers(y.oven, x.profile) || !s.p.offers(x.oven, y.profile) {
		return false
	}
	nextX := s.under(x, instance.Way{Oven: y.oven, Profile: x.profile})
	nextY := s.under(y, instance.Way{Oven: x.oven, Profile: y.profile})
	if nextX == nil || nextY == nil {
		return false
	}
	xs, ys := s.open(x.oven), s.open(y.oven)
	i, j := slices.Index(*xs, x), slices.Index(*ys, y)
	(*xs)[i], (*ys)[j] = nextY, nextX
	return true
}

func (p *Problem) offers(oven, profile int) bool {
	return slices.Contains(p.in.Ovens[oven].Profiles, profile)
}

// host draws a load, beside its own, whose profile qualifies for a lot.
func (s *state) host(r *rand.Rand, lot int32) *load {
	for range hostTries {
		if l := s.pick(r); l != s.home[lot] && s.p.lots[lot].tails[l.profile] != nil {
			return l
		}
	}
	return nil
}

const hostTries = 4

// moveLot hangs a lot in another load.
func moveLot(s *state, r *rand.Rand) bool {
	lot := s.lot(r)
	from, to := s.home[lot], s.host(r, lot)
	if to == nil {
		return false
	}
	bigger := s.with(to, lot)
	if bigger == nil {
		return false
	}
	s.replace(to, bigger)
	return s.leave(from, lot)
}

// leave takes a lot out of its load.
func (s *state) leave(l *load, lot int32) bool {
	if len(l.lots) == 1 {
		s.drop(l)
		return true
	}
	smaller := s.without(l, lot)
	if smaller == nil {
		return false // racks are hung by rules of thumb, which may fail of less
	}
	s.replace(l, smaller)
	return true
}

// swapLots lets two lots take each other's place.
func swapLots(s *state, r *rand.Rand) bool {
	a := s.lot(r)
	x, y := s.home[a], s.host(r, a)
	if y == nil || len(x.lots)+len(y.lots) == 2 {
		return false // loads of one lot change places whole
	}
	b := y.lots[r.IntN(len(y.lots))]
	nextX, nextY := s.traded(x, a, b), s.traded(y, b, a)
	if nextX == nil || nextY == nil {
		return false
	}
	s.replace(x, nextX)
	s.replace(y, nextY)
	return true
}

// partLot gives a lot a load of its own.
func partLot(s *state, r *rand.Rand) bool {
	lot := s.lot(r)
	from, ways := s.home[lot], s.p.lots[lot].ways
	if len(from.lots) == 1 {
		return false
	}
	own := s.of(ways[r.IntN(len(ways))], lot)
	if own == nil || !s.leave(from, lot) {
		return false
	}
	s.put(own, s.turnAbout(r, own.oven, from.in))
	return true
}

// mergeLoads makes one load of two.
func mergeLoads(s *state, r *rand.Rand) bool {
	x := s.pick(r)
	y := s.host(r, x.lots[0])
	if y == nil {
		return false
	}
	both := s.with(y, x.lots...)
	if both == nil {
		return false
	}
	s.replace(y, both)
	s.drop(x)
	return true
}
