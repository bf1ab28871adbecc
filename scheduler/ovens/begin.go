package ovens

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/instance"
)

// begin returns a first state: one that takes lots by their due dates or, where
// that is cheaper, one that packs as few loads as it can within so many visits.
// Packing saves no more than loads cost, and is not tried where late sets cost more
// than that.
func (p *Problem) begin(seed uint64, visits int) *state {
	byDue := newState(p)
	byDue.hangByDue()
	loads := Money(0)
	for _, turns := range byDue.turns {
		loads += price(turns)
	}
	if byDue.total > 2*loads {
		return byDue
	}
	packed := newState(p)
	packed.hangPacked(seed, visits)
	if len(packed.placed) < len(byDue.placed) || byDue.total <= packed.total {
		return byDue
	}
	return packed
}

// due returns the first date on which a lot's claim would be late.
func (p *Problem) due(lot int32) int {
	due := math.MaxInt
	for _, s := range p.claims[p.lots[lot].claim].shares {
		due = min(due, int(p.in.Lines[s.Line].Due))
	}
	return due
}

// byDue returns all lots, those due first first.
func (p *Problem) byDue() []int32 {
	lots := make([]int32, len(p.lots))
	for i := range lots {
		lots[i] = int32(i)
	}
	slices.SortStableFunc(lots, func(a, b int32) int { return cmp.Compare(p.due(a), p.due(b)) })
	return lots
}

// hangByDue hangs the lots one after the other, those due first first, each in one
// of the last loads that has room for it or in a load of its own.
func (s *state) hangByDue() {
	for _, lot := range s.p.byDue() {
		if s.join(lot) || s.append(s.soonest(s.p.lots[lot].ways, lot)) {
			s.try()
			s.keep()
			s.placed = append(s.placed, lot)
		}
	}
}

// join drafts a lot into one of the last loads, if it delays none.
func (s *state) join(lot int32) bool {
	for o := range s.turns {
		for k := len(s.turns[o]) - 1; k >= max(0, len(s.turns[o])-lastLoads); k-- {
			l := s.turns[o][k]
			if s.p.lots[lot].tails[l.profile] == nil || s.p.lots[lot].ready > l.in {
				continue
			}
			if next := s.with(l, lot); next != nil {
				s.replace(l, next)
				return true
			}
		}
	}
	return false
}

// lastLoads is how many of an oven's last loads may still take another lot.
const lastLoads = 4

// soonest returns the load of some lots, under one of some ways, that is out first
// if it comes after all others; nil where no way takes them.
func (s *state) soonest(ways []instance.Way, lots ...int32) (best *load) {
	out := Tick(0)
	for _, way := range ways {
		l := s.of(way, lots...)
		if l == nil {
			continue
		}
		if _, t := s.slot(l, s.last(way.Oven)); best == nil || t < out {
			best, out = l, t
		}
	}
	return best
}

// append drafts a load as the last of its oven; false where there is none.
func (s *state) append(l *load) bool {
	if l != nil {
		s.put(l, len(s.turns[l.oven]))
	}
	return l != nil
}

// hangPacked packs the lots that can be cured in the same ways, one group of them
// after the other, and lets the loads with what is due first go first.
func (s *state) hangPacked(seed uint64, visits int) {
	var loads []*load
	for _, group := range s.p.byWays() {
		loads = append(loads, s.pack(group, seed, visits*len(group)/len(s.p.lots))...)
	}
	due := func(l *load) (first int) {
		first = math.MaxInt
		for _, lot := range l.lots {
			first = min(first, s.p.due(lot))
		}
		return first
	}
	slices.SortStableFunc(loads, func(a, b *load) int { return cmp.Compare(due(a), due(b)) })
	for _, l := range loads {
		if s.append(s.soonest(s.p.waysOf(l.profile), l.lots...)) {
			s.try()
			s.keep()
			s.placed = append(s.placed, l.lots...)
		}
	}
}

// byWays groups the lots by the ways in which they can be cured, those due first
// first.
func (p *Problem) byWays() (groups [][]int32) {
	for _, lot := range p.byDue() {
		at := slices.IndexFunc(groups, func(g []int32) bool { return slices.Equal(p.lots[g[0]].ways, p.lots[lot].ways) })
		if at < 0 {
			at, groups = len(groups), append(groups, nil)
		}
		groups[at] = append(groups[at], lot)
	}
	return groups
}

// waysOf returns the ovens that offer a profile, as ways.
func (p *Problem) waysOf(profile int) (ways []instance.Way) {
	for o := range p.in.Ovens {
		if p.offers(o, profile) {
			ways = append(ways, instance.Way{Oven: o, Profile: profile})
		}
	}
	return ways
}
