package relax

import (
	"maps"
	"slices"
	"strconv"

	"blankwright/scheduler/shop"
)

// changed puts a copy in the place of a list, in which the rows that match are
// changed.
func changed[T any](list *[]T, matches func(*T) bool, change func(*T)) {
	rows := slices.Clone(*list)
	for i := range rows {
		if matches(&rows[i]) {
			change(&rows[i])
		}
	}
	*list = rows
}

// extended returns a copy of a list with a row more.
func extended[T any](list []T, row T) []T { return append(slices.Clone(list), row) }

func (r Relaxation) isRack(k *shop.Rack) bool       { return k.ID == r.ID }
func (r Relaxation) isOven(o *shop.Oven) bool       { return o.ID == r.ID }
func (r Relaxation) isCrew(c *shop.Crew) bool       { return c.ID == r.ID }
func (r Relaxation) isSupply(row *shop.Supply) bool { return row.Prepreg == r.ID }
func (r Relaxation) isPrepreg(p *shop.Prepreg) bool { return p.ID == r.ID }

func (r Relaxation) addMandrel(s *shop.Shop) {
	id := unused(s.Mandrels, func(m *shop.Mandrel) string { return m.ID })
	s.Mandrels = extended(s.Mandrels, shop.Mandrel{ID: id, Type: r.ID, State: shop.Ready})
}

func (r Relaxation) addOven(s *shop.Shop) {
	for i := range s.Ovens {
		if r.isOven(&s.Ovens[i]) {
			more := s.Ovens[i]
			more.ID, more.BusyUntil = unused(s.Ovens, func(o *shop.Oven) string { return o.ID }), nil
			s.Ovens = extended(s.Ovens, more)
			return
		}
	}
}

func (r Relaxation) addPosition(s *shop.Shop) {
	for _, stage := range shop.Stages() {
		if stage.String() == r.ID {
			s.Stations.At(stage).Positions++
		}
	}
}

func (r Relaxation) addSupply(s *shop.Shop) {
	id := unused(s.Supply, func(row *shop.Supply) string { return row.ID })
	s.Supply = extended(s.Supply, shop.Supply{ID: id, Prepreg: r.ID, M2: r.M2, From: s.Now, Expires: beyond(s, s.Now)})
}

func onePersonMore(c *shop.Crew) {
	c.Shifts = slices.Clone(c.Shifts)
	for i := range c.Shifts {
		c.Shifts[i].People++
	}
}

// always gives a shop a calendar that is always open, and returns its id.
func always(s *shop.Shop) (id string) {
	for id = "always"; ; id += "+" {
		if _, taken := s.Calendars[id]; !taken {
			break
		}
	}
	day := []shop.Window{{0, 24 * 60}}
	s.Calendars = maps.Clone(s.Calendars)
	s.Calendars[id] = shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}}
	return id
}

// beyond returns an instant at which nothing of this horizon has expired, not
// before another one.
func beyond(s *shop.Shop, other shop.Instant) shop.Instant {
	if end := s.Horizon(); other.Minute < end {
		return shop.Instant{Minute: end, Offset: s.Now.Offset}
	}
	return other
}

// twice doubles minutes as far as a file can state them.
func twice(minutes int) int { return min(2*minutes, mostMinutes) }

const mostMinutes = 1e9

// unused returns an id that no row has.
func unused[T any](rows []T, id func(*T) string) string {
	taken := map[string]bool{}
	for i := range rows {
		taken[id(&rows[i])] = true
	}
	for n := 1; ; n++ {
		if name := "more " + strconv.Itoa(n); !taken[name] {
			return name
		}
	}
}
