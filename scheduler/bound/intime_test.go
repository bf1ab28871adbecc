package bound_test

import (
	"testing"

	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// What loads that wait for each other must cost, where it can be told by hand: a
// load takes nearly a day and costs 6, and each day that a set is late costs 1.
func TestInTime(t *testing.T) {
	cases := []struct {
		name string
		tune func(s *shop.Shop)
		want float64
	}{
		{"one load", func(s *shop.Shop) { shoptest.AddLine(s, "P", 1, 0, 1) }, 6},
		{"one load of ten", func(s *shop.Shop) { s.Racks[0] = shoptest.BareRack("rack", 10); shoptest.AddLine(s, "P", 10, 0, 1) }, 6},
		{"one after the other", func(s *shop.Shop) { shoptest.AddLine(s, "P", 4, 0, 1) }, 4*6 + 1 + 2 + 3},
		{"the heavier first", func(s *shop.Shop) {
			shoptest.AddLine(s, "P", 2, 0, 1)
			shoptest.AddLine(s, "P", 1, 0, 5)
		}, 3*6 + 1 + 2},
		{"due one after the other", func(s *shop.Shop) {
			for due := range 4 {
				shoptest.AddLine(s, "P", 1, due, 1)
			}
		}, 4 * 6},
		{"two ovens", func(s *shop.Shop) {
			s.Ovens = append(s.Ovens, s.Ovens[0])
			s.Ovens[1].ID = "other"
			shoptest.AddLine(s, "P", 4, 0, 1)
		}, 4*6 + 1 + 1},
		{"an oven that is busy", func(s *shop.Shop) {
			until := shop.InstantIn(s.Now.Minute+2*1440, s.Zone())
			s.Ovens[0].BusyUntil = &until
			shoptest.AddLine(s, "P", 2, 0, 1)
		}, 2*6 + 2 + 3},
		{"stock", func(s *shop.Shop) { s.Products[0].Stock = 2; shoptest.AddLine(s, "P", 4, 0, 1) }, 2*6 + 1},
		{"too dear to make", func(s *shop.Shop) {
			s.Policy.UnplannedDays, s.Ovens[0].RunCost = 0, 1000
			shoptest.AddLine(s, "P", 2, 59, 1)
		}, 2},
	}
	for _, c := range cases {
		s := shoptest.Bare()
		s.Ovens[0].RunCost, s.Policy.UnplannedDays = 6, 100
		s.Profiles[0] = shoptest.BareProfile("cure", 1440-10)
		s.Racks[0] = shoptest.BareRack("rack", 1)
		c.tune(s)
		in := instance.New(shoptest.Accepted(s))
		if got := in.Price(bound.InTime(in).Total()); got > c.want+1e-6 || got < c.want*0.97 {
			t.Errorf("%s: %g, want nearly %g", c.name, got, c.want)
		}
	}
}
