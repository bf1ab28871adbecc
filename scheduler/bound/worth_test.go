package bound

import (
	"math"
	"testing"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// What loads must cost at least, where it can be told by hand: if parts of loads
// could be had, and if not. A rack has 100 pegs, a load costs 6.
func TestLoadsByWorth(t *testing.T) {
	cases := []struct {
		name  string
		sets  int
		tune  func(s *shop.Shop)
		parts float64
		whole float64
	}{
		{"one load holds all", 100, func(*shop.Shop) {}, 6, 6},
		{"one load for a few", 1, func(*shop.Shop) {}, 6, 6},
		{"two and a half", 250, func(*shop.Shop) {}, 15, 18},
		{"half as many mandrels", 100, func(s *shop.Shop) { s.Mandrels = s.Mandrels[:50] }, 12, 12},
		{"a few mandrels more", 100, func(s *shop.Shop) { s.Mandrels = s.Mandrels[:60] }, 10, 12},
		{"two pegs a piece", 100, func(s *shop.Shop) { s.Products[0].Sections[0].ODMM = 15 }, 12, 12},
		{"a rack bears half", 100, func(s *shop.Shop) { s.Products[0].Sections[0].Kg, s.Racks[0].MaxKg = 1, 50 }, 12, 12},
		{"the oven bears half, with tare", 100, func(s *shop.Shop) {
			s.Products[0].Sections[0].Kg, s.Ovens[0].MaxKg, s.Racks[0].TareKg = 1, 60, 10
		}, 12, 12},
		{"two bays", 200, func(s *shop.Shop) { s.Ovens[0].Bays = 2; shoptest.AddMandrels(s, "mandrel", 100) }, 6, 6},
		{"a cheaper oven, too small", 200, func(s *shop.Shop) {
			s.Ovens = append(s.Ovens, shoptest.BareOven("other", "cure"))
			s.Ovens[1].MaxKg, s.Ovens[1].RunCost, s.Products[0].Sections[0].Kg = 10, 1, 1
		}, 12, 12},
		{"two that share no profile", 150, func(s *shop.Shop) {
			s.Profiles = append(s.Profiles, shoptest.BareProfile("other", 60))
			s.Ovens[0].Profiles = []string{"cure", "other"}
			s.Products = append(s.Products, shoptest.BareProduct("Q", "T"))
			s.Products[0].Sections[0].Profiles, s.Products[1].Sections[0].Profiles = []string{"cure"}, []string{"other"}
			shoptest.AddLine(s, "Q", 120, 0, 1)
		}, 9 + 7.2, 12 + 12},
		{"hours, and lag by weight", 100, func(s *shop.Shop) {
			o := &s.Ovens[0]
			o.HourCost, o.LagMinutesPerKg, s.Products[0].Sections[0].Kg, s.Racks[0].TareKg = 3, 0.1, 1, 100
		}, 6 + 3*(60+10+10)/60.0, 6 + 3*(60+10+10)/60.0},
		{"stock", 100, func(s *shop.Shop) { s.Products[0].Stock = 100 }, 0, 0},
		{"for nothing", 100, func(s *shop.Shop) { s.Ovens[0].RunCost = 0 }, 0, 0},
	}
	for _, c := range cases {
		s := shoptest.Bare()
		s.Ovens[0].RunCost = 6
		shoptest.AddLine(s, "P", c.sets, 0, 1)
		c.tune(s)
		in := instance.New(shoptest.Accepted(s))
		parts, whole := in.Price(loadsByWorth(in).cost), in.Price(loadsByWorthAndCount(in).cost)
		if math.Abs(parts-c.parts) > 1e-4 || math.Abs(whole-c.whole) > 1e-4 {
			t.Errorf("%s: %g, and %g by whole loads; want %g and %g", c.name, parts, whole, c.parts, c.whole)
		}
	}
}
