package reference_test

import (
	"cmp"
	"slices"
)

// A program is choices between no and yes, 0 and 1, such that some weighted sums of
// them are at least 0 and another, the cost, is least.
type program struct {
	choices int
	rows    []sum
	cost    sum
}

// A sum is a constant and weighted choices, which are counted from 1.
type sum struct {
	constant int
	terms    []term
}

type term struct{ weight, choice int }

func fixed(n int) sum { return sum{constant: n} }

// add adds n times another sum.
func (s *sum) add(n int, other sum) {
	s.constant += n * other.constant
	for _, t := range other.terms {
		if n != 0 {
			s.terms = append(s.terms, term{n * t.weight, t.choice})
		}
	}
}

// plus returns the sum with n times another.
func (s sum) plus(n int, other sum) sum {
	out := sum{s.constant, slices.Clone(s.terms)}
	out.add(n, other)
	return out
}

// total returns the sum of some.
func total(sums ...sum) (out sum) {
	for _, s := range sums {
		out.add(1, s)
	}
	return out
}

// merged returns the sum with each choice once, and none of weight 0.
func (s sum) merged() sum {
	out := sum{constant: s.constant}
	terms := slices.Clone(s.terms)
	slices.SortFunc(terms, func(a, b term) int { return cmp.Compare(a.choice, b.choice) })
	for _, t := range terms {
		if n := len(out.terms); n > 0 && out.terms[n-1].choice == t.choice {
			out.terms[n-1].weight += t.weight
		} else {
			out.terms = append(out.terms, t)
		}
	}
	out.terms = slices.DeleteFunc(out.terms, func(t term) bool { return t.weight == 0 })
	return out
}

// choice returns a new choice, as a sum.
func (p *program) choice() sum {
	p.choices++
	return sum{terms: []term{{1, p.choices}}}
}

// atMost demands that a sum be no more than another.
func (p *program) atMost(a, b sum) {
	row := b.plus(-1, a).merged()
	least := row.constant
	for _, t := range row.terms {
		least += min(0, t.weight)
	}
	if least < 0 { // else it always is
		p.rows = append(p.rows, row)
	}
}

func (p *program) equal(a, b sum) {
	p.atMost(a, b)
	p.atMost(b, a)
}

// both demands that a choice be yes just where all of some others are.
func (p *program) both(choice sum, others ...sum) {
	for _, o := range others {
		p.atMost(choice, o)
	}
	p.atMost(total(others...).plus(1, fixed(1-len(others))), choice)
}

// rising returns choices for so many things, each of which stays so once it is so,
// and none of which is so before the one before it. They change in some slots only.
func (p *program) rising(most, slots int, changes func(t int) bool) [][]sum {
	all := make([][]sum, most)
	for i := range all {
		last := fixed(0)
		for t := range slots {
			if changes(t) {
				next := p.choice()
				p.atMost(last, next)
				if i > 0 {
					p.atMost(next, all[i-1][t])
				}
				last = next
			}
			all[i] = append(all[i], last)
		}
	}
	return all
}

// tally counts what happens in each slot, up to most, in rising choices.
func (p *program) tally(most int, happens []sum) [][]sum {
	counted := p.rising(most, len(happens), func(t int) bool { return len(happens[t].terms) > 0 })
	for t, n := range happens {
		if len(n.terms) > 0 {
			p.equal(rise(counted, t), n)
		}
	}
	return counted
}

// at counts what is so in a slot.
func at(all [][]sum, t int) (out sum) {
	for i := range all {
		out.add(1, all[i][t])
	}
	return out
}

// rise counts what is so in a slot and was not in the one before it.
func rise(all [][]sum, t int) sum {
	if t == 0 {
		return at(all, 0)
	}
	return at(all, t).plus(-1, at(all, t-1))
}

// A verdict says of each choice, by its number, whether it is yes.
type verdict []bool

// of returns what a sum comes to.
func (v verdict) of(s sum) int {
	n := s.constant
	for _, t := range s.terms {
		if v[t.choice] {
			n += t.weight
		}
	}
	return n
}
