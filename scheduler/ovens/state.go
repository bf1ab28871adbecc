package ovens

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/shop"
)

// A state is the turns of all loads, with what they cost. A move changes a draft
// of it, which is tried, and kept or undone.
type state struct {
	*shelf
	turns  [][]*load   // by oven
	placed []int32     // the lots that are in a load
	home   []*load     // by lot
	ship   []shop.Date // by lot
	cost   []Money     // by claim
	total  Money

	draft []turns // by oven
	was   trial
	dirty []int32 // claims to count anew
	stamp []int   // by claim: the last trial that made it dirty
	clock int     // trials so far
}

// turns is one oven's loads in a draft; open says that the draft has touched it.
type turns struct {
	open  bool
	loads []*load
}

// newState returns the state without loads.
func newState(p *Problem) *state {
	s := &state{
		shelf: &shelf{p, map[name]*load{}},
		turns: make([][]*load, len(p.in.Ovens)), draft: make([]turns, len(p.in.Ovens)),
		home: make([]*load, len(p.lots)), ship: make([]shop.Date, len(p.lots)),
		cost: make([]Money, len(p.claims)), stamp: make([]int, len(p.claims)),
	}
	for i := range s.ship {
		s.ship[i] = never
	}
	for c := range p.claims {
		s.cost[c] = p.cost(&p.claims[c], never)
		s.total += s.cost[c]
	}
	return s
}

// pick draws a load, the larger the more often.
func (s *state) pick(r *rand.Rand) *load { return s.home[s.lot(r)] }

// lot draws a lot that is in a load.
func (s *state) lot(r *rand.Rand) int32 { return s.placed[r.IntN(len(s.placed))] }

// open returns an oven's loads in the draft, for a move to change.
func (s *state) open(oven int) *[]*load {
	d := &s.draft[oven]
	if !d.open {
		d.open, d.loads = true, append(d.loads[:0], s.turns[oven]...)
	}
	return &d.loads
}

// drop takes a load out of the draft, and returns which turn it had.
func (s *state) drop(l *load) int {
	loads := s.open(l.oven)
	at := slices.Index(*loads, l)
	*loads = slices.Delete(*loads, at, at+1)
	return at
}

// put gives a load a turn in the draft.
func (s *state) put(l *load, at int) {
	loads := s.open(l.oven)
	*loads = slices.Insert(*loads, at, l)
}

// replace gives a load the turn of another in the draft.
func (s *state) replace(l, next *load) {
	loads := s.open(l.oven)
	next.in, next.out = l.in, l.out
	(*loads)[slices.Index(*loads, l)] = next
}

// discard forgets the draft.
func (s *state) discard() {
	for o := range s.draft {
		s.draft[o].open = false
	}
}

// last returns when an oven has done with all its loads.
func (s *state) last(oven int) Tick {
	if n := len(s.turns[oven]); n > 0 {
		return s.turns[oven][n-1].out
	}
	return 0
}

// all returns a copy of the turns.
func (s *state) all() [][]*load {
	c := make([][]*load, len(s.turns))
	for o := range c {
		c[o] = slices.Clone(s.turns[o])
	}
	return c
}

// restore goes back to turns that the state once had.
func (s *state) restore(turns [][]*load) {
	for o := range turns {
		loads := s.open(o)
		*loads = append((*loads)[:0], turns[o]...)
	}
	s.try()
	s.keep()
}
