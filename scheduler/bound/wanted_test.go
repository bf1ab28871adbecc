package bound_test

import (
	"context"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// What no new piece can be made of costs no loads, and does not keep sets from
// being made of pieces that are under way.
func TestOf_CannotBeMade(t *testing.T) {
	cases := []struct {
		name   string
		tune   func(s *shop.Shop)
		atMost float64
	}{
		{"no mandrel, but pieces to come", func(s *shop.Shop) {
			s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: "none", HangMM: 1000})
			s.Products[0].Sections[1].Mandrel = "none"
			s.Incoming = []shop.Incoming{{Section: "B", Pieces: 3, At: s.Now}}
		}, 2*1010 + 1*7},
		{"no time to wrap, but others in stock", func(s *shop.Shop) {
			s.Products[0].Sections[1].Minutes.Wrap = 1e6
			s.Products = append(s.Products, shoptest.BareProduct("Q", "C"))
			s.Products[1].Stock = 1
			shoptest.AddLine(s, "Q", 1, 0, 1)
		}, 5 * 1010},
	}
	for _, c := range cases {
		s := shoptest.Bare()
		s.HorizonDays, s.Policy.UnplannedDays = 10, 1000
		s.Ovens[0].RunCost = 7
		s.Products = []shop.Product{shoptest.BareProduct("P", "A", "B")}
		shoptest.AddLine(s, "P", 5, 0, 1)
		c.tune(s)
		s = shoptest.Accepted(s)
		in := instance.New(s)
		low := in.Price(bound.Of(in).Total())
		r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: 100})
		if err != nil {
			t.Fatal(err)
		}
		if cost := r.Plan.Cost.Total; low > cost+1e-6 || cost > c.atMost+1e-6 {
			t.Errorf("%s: bound %g, cost %g, which can be %g", c.name, low, cost, c.atMost)
		}
	}
}
