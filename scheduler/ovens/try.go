package ovens

import "blankwright/scheduler/shop"

// A trial is what trying a draft has overwritten.
type trial struct {
	loads  []savedLoad
	lots   []savedLot
	claims []savedCost
	total  Money
}

type savedLoad struct {
	load    *load
	in, out Tick
}

type savedLot struct {
	lot  int32
	ship shop.Date
	home *load
}

type savedCost struct {
	claim int32
	cost  Money
}

// try makes the draft the state's turns and returns what the cost becomes. Keep
// or undo must follow.
func (s *state) try() Money {
	s.was.total = s.total
	s.clock++
	for o := range s.draft {
		if s.draft[o].open {
			s.retime(o)
		}
	}
	for _, c := range s.dirty {
		s.recount(c)
	}
	s.dirty = s.dirty[:0]
	return s.total
}

// retime gives the loads of one oven their times, from the first turn that has
// changed until all is as it was.
func (s *state) retime(oven int) {
	old, now := s.turns[oven], s.draft[oven].loads
	first, same := alike(old, now)
	for _, l := range old[first : len(old)-same] {
		s.total -= l.price
	}
	for _, l := range now[first : len(now)-same] {
		s.total += l.price
	}
	free := Tick(0)
	if first > 0 {
		free = now[first-1].out
	}
	for i := first; i < len(now); i++ {
		l := now[i]
		in, out := s.slot(l, free)
		if i >= len(now)-same && in == l.in {
			break
		}
		s.move(l, in, out)
		free = out
	}
}

// alike returns how many loads two turns have in common at their beginnings, and
// how many of the others at their ends.
func alike(a, b []*load) (first, last int) {
	n := min(len(a), len(b))
	for first < n && a[first] == b[first] {
		first++
	}
	for last < n-first && a[len(a)-1-last] == b[len(b)-1-last] {
		last++
	}
	return first, last
}

// slot returns when a load goes in and out that has its turn from free on.
func (s *state) slot(l *load, free Tick) (in, out Tick) {
	horizon := s.p.in.Horizon
	if from := max(free, l.ready); from < horizon {
		if in, out, ok := s.p.empty.Slot(l.oven, from, l.cure); ok {
			return in, out
		}
	}
	return horizon, horizon // too late
}

// move notes a load's new times in its lots.
func (s *state) move(l *load, in, out Tick) {
	s.was.loads = append(s.was.loads, savedLoad{l, l.in, l.out})
	l.in, l.out = in, out
	for _, i := range l.lots {
		ship := s.p.lots[i].shipping(l.profile, out)
		if s.home[i] == l && s.ship[i] == ship {
			continue
		}
		s.was.lots = append(s.was.lots, savedLot{i, s.ship[i], s.home[i]})
		s.home[i] = l
		if s.ship[i] != ship {
			s.ship[i] = ship
			s.touch(s.p.lots[i].claim)
		}
	}
}

func (s *state) touch(c int32) {
	if s.stamp[c] != s.clock {
		s.stamp[c] = s.clock
		s.dirty = append(s.dirty, c)
	}
}

func (s *state) recount(c int32) {
	claim := &s.p.claims[c]
	last := shop.Date(0)
	for _, i := range claim.lots {
		last = max(last, s.ship[i])
	}
	cost := s.p.cost(claim, last)
	s.was.claims = append(s.was.claims, savedCost{c, s.cost[c]})
	s.total += cost - s.cost[c]
	s.cost[c] = cost
}

// keep makes the tried change stand.
func (s *state) keep() {
	for o := range s.draft {
		if d := &s.draft[o]; d.open {
			s.turns[o], d.loads = d.loads, s.turns[o]
		}
	}
	s.forget()
}

// undo takes the tried change back.
func (s *state) undo() {
	for i := len(s.was.loads) - 1; i >= 0; i-- {
		saved := &s.was.loads[i]
		saved.load.in, saved.load.out = saved.in, saved.out
	}
	for i := len(s.was.lots) - 1; i >= 0; i-- {
		saved := &s.was.lots[i]
		s.ship[saved.lot], s.home[saved.lot] = saved.ship, saved.home
	}
	for _, saved := range s.was.claims {
		s.cost[saved.claim] = saved.cost
	}
	s.total = s.was.total
	s.forget()
}

func (s *state) forget() {
	s.discard()
	s.was.loads, s.was.lots, s.was.claims = s.was.loads[:0], s.was.lots[:0], s.was.claims[:0]
}
