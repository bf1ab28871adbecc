package price

import (
	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A Limit says of how much of something there is by the end of each day: the
// sets that are good by then have not taken more, however they are made.
type Limit struct {
	Kind string // station, crew, mandrel, oven, material, sets or standing
	ID   string

	room      []float64 // by day
	bySection []float64 // what a set takes for a new piece of a section, at least
	byProduct []float64 // what it takes beside, whatever its pieces
	standing  int       // the section whose pieces there are these; None for other limits
}

// byStanding returns what a set takes for a piece of a section that stands there.
func (l *Limit) byStanding(section int) float64 {
	if l.standing == section {
		return 1
	}
	return 0
}

// A survey looks at what a shop has for the sets that are wanted of it.
type survey struct {
	in       *instance.Instance
	days     []day
	sections []int                    // those of the products that are wanted
	walks    []*alone.Walk            // by section
	paths    []alone.Path             // by section: the quickest
	first    []int                    // by section: the first day of a new piece; len(days) where none can be done
	open     [shop.StageCount]*supply // what positions have free
	hands    []*supply                // by crew: what people have free for them
	heads    [shop.StageCount]instance.Tick
	latest   []instance.Tick // by day: the last that a piece done on it is wrapped
	limits   []*Limit
}

// surveyOf looks for all limits of an instance.
func surveyOf(in *instance.Instance, days []day) *survey {
	s := &survey{in: in, days: days, walks: make([]*alone.Walk, len(in.Sections)), paths: make([]alone.Path, len(in.Sections)), first: make([]int, len(in.Sections))}
	for p := range in.Products {
		if in.Wanted(p) > 0 {
			s.sections = append(s.sections, in.Products[p].Sections...)
		}
	}
	s.follow()
	s.look()
	s.stations()
	s.crews()
	s.ovens()
	s.materials()
	s.mandrels()
	s.standing()
	return s
}

// limit adds a limit without room.
func (s *survey) limit(kind, id string) *Limit {
	l := &Limit{
		Kind: kind, ID: id, room: make([]float64, len(s.days)),
		bySection: make([]float64, len(s.in.Sections)), byProduct: make([]float64, len(s.in.Products)),
		standing: instance.None,
	}
	s.limits = append(s.limits, l)
	return l
}

// perSet returns how many new pieces of a section a set takes at least, when all
// sets are counted that are good by some day. G sets need N pieces of yield y with
// y × N + tolerance ≥ G, so that each takes its share of (G - tolerance) / y, which
// is least for one set.
func (s *survey) perSet(section int) float64 {
	return (1 - tolerance) / s.in.Sections[section].Yield
}

// follow finds when the first piece can be at each stage.
func (s *survey) follow() {
	for stage := range s.heads {
		s.heads[stage] = instance.Never
	}
	s.heads[shop.Cut] = 0
	for _, i := range s.sections {
		s.walks[i] = alone.Of(s.in, i)
		p := s.walks[i].Quickest(s.in.Mandrels[s.in.Sections[i].Mandrel].From[0])
		s.paths[i], s.first[i] = p, len(s.days)
		if p.Trimmed() < instance.Never {
			s.first[i] = s.dayOf(p.Trimmed())
		}
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap, shop.Strip, shop.Trim} {
			s.heads[stage] = min(s.heads[stage], p.Ends[stage-1])
		}
		s.heads[shop.Pull] = min(s.heads[shop.Pull], p.Rested)
	}
}

// look finds, for each day, when the last piece that is done on it must be wrapped.
func (s *survey) look() {
	s.latest = make([]instance.Tick, len(s.days))
	for o := range s.in.Ovens {
		for _, profile := range s.in.Ovens[o].Profiles {
			way := instance.Way{Oven: o, Profile: profile}
			if cure := s.leastCure(way); cure < instance.Never {
				for d := range s.days {
					s.latest[d] = max(s.latest[d], s.latestIn(way, cure, s.days[d].last))
				}
			}
		}
	}
}

// latestIn returns the last instant at which a piece can be wrapped that goes a way
// and is trimmed by another instant; 0 where none can.
func (s *survey) latestIn(way instance.Way, cure, last instance.Tick) instance.Tick {
	low, high := 0, last+1 // low is soon enough, or 0
	for high-low > 1 {
		at := (low + high) / 2
		if _, out := alone.Cured(s.in, way.Oven, cure, at); s.trimmed(out, way) <= last {
			low = at
		} else {
			high = at
		}
	}
	return low
}

// trimmed returns when a piece that comes out at an instant is trimmed at the
// earliest.
func (s *survey) trimmed(out instance.Tick, way instance.Way) instance.Tick {
	at := out + s.in.Profiles[way.Profile].Rest
	for _, stage := range []shop.Stage{shop.Pull, shop.Strip, shop.Trim} {
		work := instance.Never
		for _, i := range s.sections {
			work = min(work, s.in.Work(stage, i, 0, 1))
		}
		at = alone.Through(s.in, stage, work, at)
	}
	return at
}

// leastCure returns the least cure minutes of any load of a way; Never where
// there is none.
func (s *survey) leastCure(way instance.Way) instance.Tick {
	least := instance.Never
	for _, i := range s.sections {
		for _, c := range s.walks[i].Cures {
			if c.Way == way {
				least = min(least, c.Minutes)
			}
		}
	}
	return least
}
