package ovens

import (
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// A load is one charge. What is in it does not change: a changed load is another.
type load struct {
	name    name
	oven    int
	profile int
	lots    []int32
	ready   Tick // when the last of its lots is
	cure    Tick
	price   Money // of the oven's work
	in, out Tick  // as the state stands
}

// A name is what a load is known by: two loads of one name are the same.
type name struct {
	lots          uint64 // the lots' marks together
	oven, profile int32
}

// A shelf remembers the loads that were ever asked for: a search comes back to the
// same ones again and again.
type shelf struct {
	p     *Problem
	loads map[name]*load // nil where the oven does not take the lots together
}

// mostKept bounds the loads that a shelf remembers.
const mostKept = 1 << 16

// load returns the load of a name, of some lots where it is asked for the first
// time; nil where its oven does not take them together.
func (s *shelf) load(n name, lots func() []int32) *load {
	l, ok := s.loads[n]
	if !ok {
		if len(s.loads) >= mostKept {
			clear(s.loads)
		}
		l = s.p.load(n, lots())
		s.loads[n] = l
	}
	return l
}

// load returns a load of some lots, nil where its oven does not take them
// together.
func (p *Problem) load(n name, lots []int32) *load {
	l := &load{name: n, oven: int(n.oven), profile: int(n.profile), lots: lots}
	for _, i := range lots {
		if p.lots[i].tails[l.profile] == nil {
			return nil
		}
		l.ready = max(l.ready, p.lots[i].ready)
	}
	whole, ok := line.NewLoad(p.in, 0, l.oven, l.profile, p.runs(lots))
	if !ok {
		return nil
	}
	l.cure, l.price = whole.Cure, p.in.LoadCost(l.oven, whole.Cure)
	return l
}

// runs returns the runs of some lots.
func (p *Problem) runs(lots []int32) []rack.Run {
	runs := make([]rack.Run, 0, len(lots))
	for _, i := range lots {
		lot := p.lots[i].run
		at := slices.IndexFunc(runs, func(r rack.Run) bool { return r.Section == lot.Section })
		if at < 0 {
			runs = append(runs, lot)
			continue
		}
		runs[at].Pieces += lot.Pieces
	}
	return runs
}

// of returns the load of some lots under a way.
func (s *shelf) of(way instance.Way, lots ...int32) *load {
	n := name{oven: int32(way.Oven), profile: int32(way.Profile)}
	for _, i := range lots {
		n.lots ^= s.p.lots[i].mark
	}
	return s.load(n, func() []int32 { return slices.Clone(lots) })
}

// under returns a load of the same lots under another way.
func (s *shelf) under(l *load, way instance.Way) *load {
	if l.oven == way.Oven && l.profile == way.Profile {
		return l
	}
	n := name{l.name.lots, int32(way.Oven), int32(way.Profile)}
	return s.load(n, func() []int32 { return l.lots })
}

// with returns a load with more lots.
func (s *shelf) with(l *load, lots ...int32) *load {
	n := l.name
	for _, i := range lots {
		n.lots ^= s.p.lots[i].mark
	}
	return s.load(n, func() []int32 { return slices.Concat(l.lots, lots) })
}

// without returns a load with one lot fewer, of at least two.
func (s *shelf) without(l *load, lot int32) *load {
	n := l.name
	n.lots ^= s.p.lots[lot].mark
	return s.load(n, func() []int32 {
		return slices.DeleteFunc(slices.Clone(l.lots), func(i int32) bool { return i == lot })
	})
}

// traded returns a load with one lot in the place of another.
func (s *shelf) traded(l *load, out, in int32) *load {
	n := l.name
	n.lots ^= s.p.lots[out].mark ^ s.p.lots[in].mark
	return s.load(n, func() []int32 {
		lots := slices.Clone(l.lots)
		lots[slices.Index(lots, out)] = in
		return lots
	})
}
