package search_test

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A search finds what is worth its while only if it waits for its trim: a set that can
// be wrapped and cured today alone, and is due on day 9 of 10. Left out it costs a day
// at 5; made at once, a load at 1 and 9 days at 0.5; trimmed when it is due, the load.
func TestImprove_WorthItOnceItWaits(t *testing.T) {
	s := shoptest.Bare()
	s.HorizonDays, s.Policy.HoldCost, s.Policy.MaxGreenMinutes, s.Ovens[0].RunCost = 10, 0.5, 60, 1
	tomorrow := s.Now.Minute + 1440
	s.Downtime = []shop.Downtime{{Resource: "wrap", From: shop.InstantIn(tomorrow, s.Zone()), To: shop.InstantIn(tomorrow+9*1440, s.Zone())}}
	shoptest.AddLine(s, "P", 1, 9, 5)
	in := instance.New(shoptest.Accepted(s))
	a, _ := search.Improve([]*answer.Answer{answer.New(in)}, search.Options{Seed: 1, Effort: 40000})
	if cost := in.Price(a.Cost().Total()); cost != 1 {
		t.Errorf("the plan costs %g, want the load's 1", cost)
	}
}
