package web_test

import (
	"testing"

	"blankwright/api/web"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A line's difference says what became of the line, also where no date is to
// come any more.
func TestLineRow_Fate(t *testing.T) {
	due := shop.Date(20800)
	day := func(n int) *shop.Date { d := due + shop.Date(n); return &d }
	for want, row := range map[string]web.LineRow{
		"cancelled":          {Sets: 0, Due: due},
		"shipped":            {Sets: 3, Shipped: 3, Due: due},
		"not in a plan yet":  {Sets: 3, Shipped: 1, Due: due},
		"2 of 3 not planned": {Sets: 3, Unplanned: 2, Ship: day(0), Due: due},
		"held back":          {Sets: 3, Shipped: 1, Due: due, Held: &store.Hold{Why: "credit"}},
		"on the day":         {Sets: 3, Ship: day(0), Due: due},
		"1 day late":         {Sets: 3, Ship: day(1), Due: due},
		"2 days early":       {Sets: 3, Ship: day(1), Due: due, Promised: day(3)},
	} {
		if got := row.Fate(); got != want {
			t.Errorf("%+v is said to be %q, but is %q", row, got, want)
		}
	}
}
