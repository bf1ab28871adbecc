package runs_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// The dates on which lines ship cost what the plan says that they do: late, held
// and left out.
func TestShippings_Cost(t *testing.T) {
	for seed, made := range madeShops(t) {
		s, p := made.shop, made.Plan
		var late, hold float64
		for _, ship := range runs.Shippings(s, p) {
			line, weight := ship.Line, ship.Line.Weight*s.Policy.LateCost
			for _, part := range ship.Parts {
				days := float64(part.Date - line.Due)
				late += float64(part.Sets) * weight * max(0, days)
				hold += float64(part.Sets) * s.Policy.HoldCost * max(0, -days)
			}
			late += float64(ship.Unplanned) * weight * max(0, float64(never(s, line)-line.Due))
		}
		if math.Abs(late-p.Cost.Late) > 0.01+1e-6*late || math.Abs(hold-p.Cost.Hold) > 0.01+1e-6*hold {
			t.Errorf("shop %d: late %.2f and hold %.2f, the plan says %.2f and %.2f", seed, late, hold, p.Cost.Late, p.Cost.Hold)
		}
	}
}

// never is when a set counts as shipped that is left out.
func never(s *shop.Shop, line *shop.Line) shop.Date {
	calendar := s.Calendars[s.Policy.ShippingCalendar]
	for i := range s.Products {
		if s.Products[i].ID == line.Product {
			end := shop.DateAt(s.Horizon(), s.Zone())
			return shop.ShipDate(&calendar, end, s.Products[i].FinishDays, s.Zone()) + shop.Date(s.Policy.UnplannedDays)
		}
	}
	panic("no product " + line.Product)
}

// Lines ship when their sets are good and finished; those of an order that ships
// complete ship on the last date of any, or not at all.
func TestShippings(t *testing.T) {
	monday, parts := bareDay(0), func(p ...runs.Part) []runs.Part { return p }
	tests := []struct {
		name        string
		complete    bool
		allocations []plan.Allocation
		want        [2][]runs.Part
		unplanned   [2]int
	}{
		{
			"as ready", false,
			[]plan.Allocation{given("a", 1, 2), given("b", 2, 3), given("a", 2, 2), given("a", 1, 0)},
			[2][]runs.Part{parts(runs.Part{Date: monday, Sets: 1}, runs.Part{Date: monday + 2, Sets: 3}), parts(runs.Part{Date: monday + 3, Sets: 2})},
			[2]int{0, 0},
		},
		{
			"as ready, in part", false,
			[]plan.Allocation{given("a", 3, 1)},
			[2][]runs.Part{parts(runs.Part{Date: monday + 1, Sets: 3}), nil},
			[2]int{1, 2},
		},
		{
			"complete", true,
			[]plan.Allocation{given("a", 4, 1), given("b", 2, 6)},
			[2][]runs.Part{parts(runs.Part{Date: monday + 6, Sets: 4}), parts(runs.Part{Date: monday + 6, Sets: 2})},
			[2]int{0, 0},
		},
		{
			"complete, but short", true,
			[]plan.Allocation{given("a", 4, 1), given("b", 1, 6)},
			[2][]runs.Part{nil, nil},
			[2]int{4, 2},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := twoLines(test.complete)
			got := runs.Shippings(s, &plan.Plan{Allocations: test.allocations})
			for i, ship := range got {
				if diff := cmp.Diff(test.want[i], ship.Parts); diff != "" || ship.Unplanned != test.unplanned[i] {
					t.Errorf("line %s: %d unplanned, want %d; parts (-want +got):\n%s", ship.Line.ID, ship.Unplanned, test.unplanned[i], diff)
				}
				if n := len(ship.Parts); (n == 0) != (ship.Ship == nil) || n > 0 && *ship.Ship != ship.Parts[n-1].Date {
					t.Errorf("line %s ships on %v, its parts on %v", ship.Line.ID, ship.Ship, ship.Parts)
				}
			}
		})
	}
}

// bareDay is a date of the bare shop, counted from its first.
func bareDay(n int) shop.Date { return shoptest.Bare().Today() + shop.Date(n) }

// given gives a line sets that are good at noon of a day.
func given(line string, sets, day int) plan.Allocation {
	return plan.Allocation{Line: line, Sets: sets, DoneAt: bareAt(day, 12*60)}
}

// bareAt is an instant of the bare shop.
func bareAt(day, minute int) shop.Instant {
	return shop.Instant{Minute: shoptest.Bare().Now.Minute + int64(day*24*60+minute)}
}

// twoLines is a bare shop with the lines a, of four sets, and b, of two, of one order.
func twoLines(complete bool) *shop.Shop {
	s := shoptest.Bare()
	for i, id := range []string{"a", "b"} {
		line := shoptest.AddLine(s, "P", 4-2*i, 5, 1)
		line.ID, line.Order, line.Complete = id, "O", complete
	}
	return s
}

// What of a line is open by now is told in full, whatever became of it since
// the plan was made.
func TestShipping_Left(t *testing.T) {
	s := runs.Shipping{Line: &shop.Line{Quantity: 6}, Parts: []runs.Part{{Date: 10, Sets: 2}, {Date: 12, Sets: 3}}, Unplanned: 1}
	for _, test := range []struct {
		name      string
		open      int
		parts     []runs.Part
		unplanned int
	}{
		{"as it was planned", 6, []runs.Part{{Date: 10, Sets: 2}, {Date: 12, Sets: 3}}, 1},
		{"some shipped", 3, []runs.Part{{Date: 12, Sets: 2}}, 1},
		{"all that was planned shipped", 1, nil, 1},
		{"all shipped", 0, nil, 0},
		{"more asked for", 8, []runs.Part{{Date: 10, Sets: 2}, {Date: 12, Sets: 3}}, 3},
	} {
		parts, unplanned := s.Left(test.open)
		if diff := cmp.Diff(test.parts, parts); diff != "" || unplanned != test.unplanned {
			t.Errorf("%s: %d not planned, parts (-want +got)\n%s", test.name, unplanned, diff)
		}
	}
}
