package runs

import (
	"cmp"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// A Need is how many mandrels of a type a plan has out at once on a day, at most,
// against those that are ready by then.
type Need struct {
	Type  string
	Day   shop.Date
	Out   int
	Ready int
}

// Needs returns a plan's need of mandrels, by type in the shop's order and by day,
// from the shop's first day to the last on which any of the type is out.
func Needs(s *shop.Shop, p *plan.Plan) []Need { return needs(s, p, nil) }

// needs is Needs without what came off its load already, as long as the plan counts
// that as out.
func needs(s *shop.Shop, p *plan.Plan, off []crib.Need) []Need {
	types, moves := mandrelTypes(s), map[string][]move{}
	clean := newCleaning(s)
	for i := range p.Tasks {
		t := &p.Tasks[i]
		switch kind := types[t.Section]; {
		case kind == nil:
		case t.Stage == shop.Tack:
			moves[kind.ID] = append(moves[kind.ID], move{t.Start.Minute, t.Pieces})
		case t.Stage == shop.Pull:
			moves[kind.ID] = append(moves[kind.ID], move{clean.after(t.End.Minute, kind.TurnaroundMinutes), -t.Pieces})
		}
	}
	for _, n := range off {
		moves[n.Type] = append(moves[n.Type], move{s.Now.Minute, -n.Pieces})
		if !n.Back.IsZero() {
			moves[n.Type] = append(moves[n.Type], move{shop.InstantOf(n.Back).Minute, n.Pieces})
		}
	}
	var list []Need
	for i := range s.MandrelTypes {
		list = append(list, needOf(s, s.MandrelTypes[i].ID, moves[s.MandrelTypes[i].ID])...)
	}
	return list
}

// mandrelTypes returns each section's type of mandrel.
func mandrelTypes(s *shop.Shop) map[string]*shop.MandrelType {
	byID, bySection := map[string]*shop.MandrelType{}, map[string]*shop.MandrelType{}
	for i := range s.MandrelTypes {
		byID[s.MandrelTypes[i].ID] = &s.MandrelTypes[i]
	}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			bySection[section.ID] = byID[section.Mandrel]
		}
	}
	return bySection
}

// A move takes mandrels out at a minute, or gives them back.
type move struct {
	at     int64
	pieces int
}

// needOf counts one type's mandrels day by day.
func needOf(s *shop.Shop, kind string, moves []move) []Need {
	slices.SortFunc(moves, func(a, b move) int { return cmp.Compare(a.at, b.at) })
	zone, out := s.Zone(), 0
	pass := func(until int64) (peak int) {
		for peak = out; len(moves) > 0 && moves[0].at <= until; {
			// What comes back at a minute is free for what goes out there.
			for at := moves[0].at; len(moves) > 0 && moves[0].at == at; moves = moves[1:] {
				out += moves[0].pieces
			}
			peak = max(peak, out)
		}
		return peak
	}
	pass(s.Now.Minute)
	var list []Need
	for day := s.Today(); day == s.Today() || len(moves) > 0; day++ {
		pass(shop.At(day, 0, zone))
		end := shop.At(day+1, 0, zone)
		list = append(list, Need{Type: kind, Day: day, Out: pass(end - 1), Ready: readyBy(s, kind, end)})
	}
	return list
}

// readyBy counts the mandrels of a type that a plan may use before a minute.
func readyBy(s *shop.Shop, kind string, minute int64) int {
	count := 0
	for i := range s.Mandrels {
		m := &s.Mandrels[i]
		if m.Type == kind && m.State == shop.Ready && (m.ReadyAt == nil || m.ReadyAt.Minute < minute) {
			count++
		}
	}
	return count
}

// A cleaning counts the pull station's working minutes in which mandrels are made
// ready again.
type cleaning struct {
	shop     *shop.Shop
	calendar shop.Calendar
}

func newCleaning(s *shop.Shop) *cleaning {
	return &cleaning{shop: s, calendar: s.Calendars[s.Stations.Pull.Calendar]}
}

// farthest is how many days after the horizon a mandrel is looked for at most: the
// pull station may never open again.
const farthest = 60

// after returns when so many working minutes have passed since a minute.
func (c *cleaning) after(from int64, minutes int) int64 {
	zone := c.shop.Zone()
	first := shop.DateAt(from, zone)
	last := max(first, c.shop.Today()+shop.Date(c.shop.HorizonDays)) + farthest
	if minutes == 0 {
		return from
	}
	left := int64(minutes)
	for day := first; day <= last; day++ {
		for _, span := range c.calendar.Spans(day, day+1, zone) {
			begin := max(span.From, from)
			if begin >= span.To {
				continue
			}
			if span.To-begin >= left {
				return begin + left
			}
			left -= span.To - begin
		}
	}
	return shop.At(last+1, 0, zone)
}
