package price

import (
	"math"
	"slices"

	"blankwright/scheduler/instance"
)

// A Model is what is left of a shop when only its limits are kept: each set of a
// line is good on some day, and takes of each limit by then what it takes at
// least, or it is left out.
type Model struct {
	in       *instance.Instance
	days     []day
	limits   []*Limit
	rows     []row     // by limit
	products []product // by product
	lines    []line
	orders   []order
	shift    uint // prices and costs count in so many bits less than Money has
}

// A row is a limit in whole numbers: in shares of what all wanted sets take of it.
type row struct {
	all  float64 // what they take
	room []int64 // by day, rounded up; rows past its end do not bind
}

// one is the share of the whole.
const one = 1 << shareBits

// shareBits is how fine shares are.
const shareBits = 40

// A use is the share of a limit that a set takes.
type use struct {
	limit int
	share int64
}

// A product is how its sets come about: each part of a set is new pieces of some
// sections, or, where there are such, a piece that needs no new load.
type product struct {
	parts []part
	uses  []use // of a set, whatever its parts
	first int   // the first day of a set
}

// A part of a set is new pieces, which can be done from a day on, or what stands
// there already.
type part struct {
	fresh    []use
	first    int // the first day of new pieces; len(days) where there is none
	standing []use
	since    int // the first day of what stands there; len(days) where nothing does
}

func newModel(in *instance.Instance) *Model {
	m := &Model{in: in, days: daysOf(in)}
	s := surveyOf(in, m.days)
	m.limits, m.products = s.limits, make([]product, len(in.Products))
	m.scale()
	for p := range in.Products {
		if in.Wanted(p) > 0 {
			m.products[p] = m.product(p, s.first)
		}
	}
	m.demand()
	return m
}

// scale turns limits into whole numbers.
func (m *Model) scale() {
	for _, l := range m.limits {
		r := row{}
		for p := range m.in.Products {
			each := l.byProduct[p]
			for _, s := range m.in.Products[p].Sections {
				each += l.bySection[s]
				each += l.byStanding(s)
			}
			r.all += float64(each * float64(m.in.Wanted(p)))
		}
		for _, room := range l.room {
			if room >= r.all {
				break
			}
			r.room = append(r.room, int64(math.Ceil(room/r.all*one*(1+1e-12)))+1)
		}
		m.rows = append(m.rows, r)
	}
}

// uses returns the uses that take makes of the limits.
func (m *Model) uses(take func(l *Limit) float64) (uses []use) {
	for i, l := range m.limits {
		if n := take(l); n > 0 && len(m.rows[i].room) > 0 {
			uses = append(uses, use{i, int64(math.Floor(n / m.rows[i].all * one * (1 - 1e-12)))})
		}
	}
	return uses
}

// product returns how sets of a product come about. Sections without standing
// pieces make one part.
func (m *Model) product(p int, first []int) product {
	to := product{uses: m.uses(func(l *Limit) float64 { return l.byProduct[p] })}
	for _, l := range m.limits {
		if l.byProduct[p] > 0 {
			to.first = max(to.first, since(l, 1-tolerance))
		}
	}
	rest := part{since: len(m.days)}
	var without []int
	for _, s := range m.in.Products[p].Sections {
		if m.in.Standing(s) == 0 {
			without, rest.first = append(without, s), max(rest.first, first[s])
			continue
		}
		to.parts = append(to.parts, part{
			fresh: m.uses(func(l *Limit) float64 { return l.bySection[s] }), first: first[s],
			standing: m.uses(func(l *Limit) float64 { return l.byStanding(s) }), since: m.since(s),
		})
	}
	if len(without) > 0 {
		rest.fresh = m.uses(func(l *Limit) (sum float64) {
			for _, s := range without {
				sum += l.bySection[s]
			}
			return sum
		})
		to.parts = append(to.parts, rest)
	}
	return to
}

// since returns the first day on which a limit has some room.
func since(l *Limit, room float64) int {
	for d := range l.room {
		if l.room[d] >= room {
			return d
		}
	}
	return len(l.room)
}

// since returns the first day on which pieces of a section stand there.
func (m *Model) since(section int) int {
	for _, l := range m.limits {
		if l.standing == section {
			return since(l, 2*tolerance)
		}
	}
	return len(m.days)
}

// limits returns the limits that sets of a product use, each once.
func (p *product) limits() (list []int) {
	all := slices.Clone(p.uses)
	for _, part := range p.parts {
		all = append(append(all, part.fresh...), part.standing...)
	}
	for _, u := range all {
		if !slices.Contains(list, u.limit) {
			list = append(list, u.limit)
		}
	}
	return list
}
