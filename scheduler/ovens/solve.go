package ovens

import (
	"cmp"
	"slices"
)

// Options say how long and from which seed to search.
type Options struct {
	Seed  uint64
	Steps int         // changes to try
	Stop  func() bool // asked now and then; true ends the search early; may be nil
}

// Solve plans the loads, and returns them in the order in which they go in, with what
// they cost. Those that would be too late for the horizon are left out.
func (p *Problem) Solve(o Options) ([]Load, Money) {
	s := p.begin(o.Seed, visitsPerStep*o.Steps)
	if len(s.placed) > 0 {
		a := newAnnealing(s, o)
		a.run(o.Steps)
		s.restore(a.best)
	}
	return s.loads(), s.total
}

// visitsPerStep is how many visits a packing may take for each step of the search.
const visitsPerStep = 20

// loads returns the loads in the order in which they go in.
func (s *state) loads() (list []Load) {
	for o := range s.turns {
		for _, l := range s.turns[o] {
			if l.in < s.p.in.Horizon {
				list = append(list, Load{o, l.profile, s.p.runs(l.lots), l.in})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Load) int { return cmp.Compare(a.In, b.In) })
	return list
}
