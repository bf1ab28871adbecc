package runs

import (
	"cmp"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A Shipping tells when a line of the demand ships by a plan.
type Shipping struct {
	Line *shop.Line
	// Ship is the date on which its last planned set ships; nil where it ships
	// nothing. A line that ships complete with an order of which any set is not
	// planned ships nothing.
	Ship *shop.Date
	// Parts are its sets by the date on which they ship, the first first.
	Parts []Part
	// Unplanned are the sets that do not ship by this plan.
	Unplanned int
}

// A Part is some sets of a line that ship on one date.
type Part struct {
	Date shop.Date `json:"date"`
	Sets int       `json:"sets"`
}

// DaysLate returns by how many days the last planned set ships after the line is
// due; 0 where it is in time or ships nothing.
func (s *Shipping) DaysLate() int {
	if s.Ship == nil {
		return 0
	}
	return max(0, int(*s.Ship-s.Line.Due))
}

// Left returns what of it is still to ship where so many sets are open by now:
// those that went since went first, and for those that were asked for since
// there is no plan.
func (s *Shipping) Left(open int) (parts []Part, unplanned int) {
	gone := s.Line.Quantity - open
	for _, part := range s.Parts {
		went := min(part.Sets, max(0, gone))
		gone -= went
		if part.Sets -= went; part.Sets > 0 {
			parts = append(parts, part)
		}
	}
	return parts, s.Unplanned - gone
}

// Shippings returns when each line of a shop's demand ships by a plan, in the
// shop's order.
func Shippings(s *shop.Shop, p *plan.Plan) []Shipping {
	list := make([]Shipping, len(s.Demand))
	byLine := map[string]*Shipping{}
	for i := range s.Demand {
		list[i] = Shipping{Line: &s.Demand[i], Unplanned: s.Demand[i].Quantity}
		byLine[s.Demand[i].ID] = &list[i]
	}
	dates := newShipDates(s)
	for _, a := range p.Allocations {
		if line := byLine[a.Line]; line != nil {
			line.add(dates.of(line.Line.Product, a.DoneAt), a.Sets)
		}
	}
	together(list)
	for i := range list {
		list[i].close()
	}
	return list
}

// add gives the line sets that ship on a date.
func (s *Shipping) add(date shop.Date, sets int) {
	s.Unplanned -= sets
	at, found := slices.BinarySearchFunc(s.Parts, date, func(p Part, d shop.Date) int { return cmp.Compare(p.Date, d) })
	if !found {
		s.Parts = slices.Insert(s.Parts, at, Part{Date: date})
	}
	s.Parts[at].Sets += sets
}

// close states the ship date once all parts are known.
func (s *Shipping) close() {
	if n := len(s.Parts); n > 0 {
		s.Ship = &s.Parts[n-1].Date
	}
}

// together has the lines of each order that ships complete ship on the latest of
// their dates, or not at all where any set of them is not planned.
func together(list []Shipping) {
	short, latest := map[string]bool{}, map[string]shop.Date{}
	for i := range list {
		s := &list[i]
		if !shipsTogether(s.Line) {
			continue
		}
		short[s.Line.Order] = short[s.Line.Order] || s.Unplanned > 0
		for _, part := range s.Parts {
			latest[s.Line.Order] = max(latest[s.Line.Order], part.Date)
		}
	}
	for i := range list {
		switch s := &list[i]; {
		case !shipsTogether(s.Line):
		case short[s.Line.Order]:
			s.Parts, s.Unplanned = nil, s.Line.Quantity
		case len(s.Parts) > 0:
			s.Parts = []Part{{Date: latest[s.Line.Order], Sets: s.Line.Quantity}}
		}
	}
}

func shipsTogether(line *shop.Line) bool { return line.Complete && line.Order != "" }

// shipDates counts ship dates by a shop's shipping calendar.
type shipDates struct {
	shop     *shop.Shop
	calendar shop.Calendar
	finish   map[string]int // days, by product
}

func newShipDates(s *shop.Shop) *shipDates {
	d := &shipDates{shop: s, calendar: s.Calendars[s.Policy.ShippingCalendar], finish: map[string]int{}}
	for i := range s.Products {
		d.finish[s.Products[i].ID] = s.Products[i].FinishDays
	}
	return d
}

// of returns when a set of a product ships that is good at an instant.
func (d *shipDates) of(product string, done shop.Instant) shop.Date {
	zone := d.shop.Zone()
	return shop.ShipDate(&d.calendar, shop.DateAt(done.Minute, zone), d.finish[product], zone)
}
