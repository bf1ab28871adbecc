package price

import (
	"math"

	"blankwright/scheduler/instance"
)

// mandrels limits the pieces of each mandrel type to what comes off its mandrels
// when nothing else is made, and the sets of each product to what its scarcest section
// allows when no other product is made.
func (s *survey) mandrels() {
	byType := make([][]int, len(s.in.Mandrels))
	for _, i := range s.sections {
		m := s.in.Sections[i].Mandrel
		byType[m] = append(byType[m], i)
	}
	for m, sections := range byType {
		if len(sections) == 0 {
			continue
		}
		l := s.limit("mandrel", s.in.Mandrels[m].ID)
		for d, n := range s.rounds(sections) {
			l.room[d] = float64(n)
		}
		for _, i := range sections {
			l.bySection[i] = s.perSet(i)
		}
	}
	for p := range s.in.Products {
		if s.in.Wanted(p) > 0 {
			l := s.limit("sets", s.in.Products[p].ID)
			l.byProduct[p] = 1
			s.sets(p, l.room)
		}
	}
}

// rounds returns how many pieces of some sections, all of one mandrel type, can be
// trimmed by the end of each day.
func (s *survey) rounds(sections []int) []int {
	need := 0
	for _, i := range sections {
		// All that is wanted may be made anew, before what stands there comes in.
		need += 1 + int(float64(s.in.Wanted(s.in.Sections[i].Product))/s.in.Sections[i].Yield)
	}
	on := make([]int, len(s.days))
	q := s.queue(sections)
	for range need {
		done := q.next()
		if done >= instance.Never {
			break
		}
		on[s.dayOf(done)]++
	}
	for d := 1; d < len(on); d++ {
		on[d] += on[d-1]
	}
	return on
}

// dayOf returns the first day by whose end something that is done at an instant
// counts.
func (s *survey) dayOf(t instance.Tick) int {
	for d := range s.days {
		if t <= s.days[d].last {
			return d
		}
	}
	return len(s.days) - 1
}

// sets sets how many sets of a product can be good by the end of each day.
func (s *survey) sets(product int, room []float64) {
	p := &s.in.Products[product]
	for d := range room {
		room[d] = math.Inf(1)
	}
	for _, i := range p.Sections {
		trimmed := s.rounds([]int{i})
		for d := range room {
			n := min(trimmed[d], s.cut(i, s.latest[d]))
			room[d] = min(room[d], float64(p.Stock+s.good(i, s.days[d].last, n)))
		}
	}
}

// cut returns how many pieces of a section material allows to be cut before an
// instant.
func (s *survey) cut(section int, before instance.Tick) int {
	most := math.MaxInt32
	for _, c := range s.in.Sections[section].Cuts {
		if s.in.Prepregs[c.Prepreg].Limited && c.Area > 0 {
			most = int(min(float64(most), s.supplied(c.Prepreg, before)/c.Area*(1+1e-12)))
		}
	}
	return most
}

// good returns the good pieces of a section by an instant, stock left out, when so
// many new ones are trimmed by then.
func (s *survey) good(section int, by instance.Tick, trimmed int) (good int) {
	for _, g := range s.in.Sections[section].Incoming {
		if g.At <= by {
			good += g.Pieces
		}
	}
	for _, g := range s.in.Sections[section].Trimmed {
		if g.At <= by {
			trimmed += g.Pieces
		}
	}
	return good + instance.Yielded(s.in.Sections[section].Yield, trimmed)
}
