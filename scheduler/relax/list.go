package relax

import (
	"slices"

	"blankwright/scheduler/shop"
)

// All returns every relaxation that makes a difference in a shop: people first,
// then tools, material, room and time.
func All(s *shop.Shop) (list []Relaxation) {
	for i := range s.Crews {
		if len(s.Crews[i].Shifts) > 0 {
			list = append(list, Relaxation{Kind: Crew, ID: s.Crews[i].ID})
		}
	}
	for i := range s.MandrelTypes {
		list = append(list, Relaxation{Kind: Mandrel, ID: s.MandrelTypes[i].ID})
	}
	list = append(list, material(s)...)
	for _, stage := range shop.Stages() {
		list = append(list, Relaxation{Kind: Position, ID: stage.String()})
	}
	for i := range s.Ovens {
		list = append(list, Relaxation{Kind: Oven, ID: s.Ovens[i].ID})
		if !opensAlways(s, s.Ovens[i].Calendar) {
			list = append(list, Relaxation{Kind: Hours, ID: s.Ovens[i].ID})
		}
	}
	for i := range s.Racks {
		list = append(list, Relaxation{Kind: Rack, ID: s.Racks[i].ID})
	}
	return append(list, limits(s)...)
}

// material returns the relaxations of what there is of each prepreg.
func material(s *shop.Shop) (list []Relaxation) {
	for i := range s.Prepregs {
		p := &s.Prepregs[i]
		if m2, limited := roll(s, p); limited {
			list = append(list, Relaxation{Kind: Material, ID: p.ID, M2: m2})
		}
		if expires(s, p.ID) {
			list = append(list, Relaxation{Kind: Expiry, ID: p.ID})
		}
	}
	return list
}

// limits returns the relaxations of how long flags and wrapped pieces may lie.
func limits(s *shop.Shop) (list []Relaxation) {
	minutes := int(s.Horizon() - s.Now.Minute)
	for i := range s.Prepregs {
		if n := s.Prepregs[i].MaxOpenMinutes; 0 < n && n < minutes {
			list = append(list, Relaxation{Kind: Open, ID: s.Prepregs[i].ID})
		}
	}
	if n := s.Policy.MaxGreenMinutes; 0 < n && n < minutes {
		list = append(list, Relaxation{Kind: Green})
	}
	return list
}

// opensAlways reports whether a calendar leaves no minute of the horizon out.
func opensAlways(s *shop.Shop, id string) bool {
	c, zone, today := s.Calendars[id], s.Zone(), s.Today()
	spans := c.Spans(today, today+shop.Date(s.HorizonDays), zone)
	return len(spans) == 1 && spans[0].From <= s.Now.Minute && s.Horizon() <= spans[0].To
}

// roll returns how much more there would be of a prepreg: as much as its largest
// row holds, or, where that is none, as all of the demand takes. It is not
// limited where it has no row.
func roll(s *shop.Shop, p *shop.Prepreg) (m2 float64, limited bool) {
	for i := range s.Supply {
		if s.Supply[i].Prepreg == p.ID {
			m2, limited = max(m2, s.Supply[i].M2), true
		}
	}
	if limited && m2 == 0 {
		m2 = takes(s, p)
	}
	return m2, limited && m2 > 0
}

// takes returns how much of a prepreg the whole demand takes, nothing lost but
// in nesting.
func takes(s *shop.Shop, p *shop.Prepreg) (m2 float64) {
	for i := range s.Demand {
		for _, section := range sections(s, s.Demand[i].Product) {
			m2 += float64(s.Demand[i].Quantity) * section.M2(p)
		}
	}
	return m2
}

// expires reports whether any of a prepreg expires before the horizon ends.
func expires(s *shop.Shop, prepreg string) bool {
	return slices.ContainsFunc(s.Supply, func(row shop.Supply) bool {
		return row.Prepreg == prepreg && row.M2 > 0 && row.Expires.Minute < s.Horizon()
	})
}

func sections(s *shop.Shop, product string) []shop.Section {
	for i := range s.Products {
		if s.Products[i].ID == product {
			return s.Products[i].Sections
		}
	}
	return nil
}
