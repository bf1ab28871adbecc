package tidy_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/tidy"
)

// trimDays returns the days on which the trim tasks of an answer end, by load.
func trimDays(a *answer.Answer) (days []int) {
	for _, l := range a.Loads {
		for _, task := range l.Trims() {
			days = append(days, a.In.Day(task.End))
		}
	}
	return days
}

// Trims of early sets wait until they are due, or for as long as it pays.
func TestAnswer_LetsTrimsWait(t *testing.T) {
	cases := []struct {
		name  string
		alter func(s *shop.Shop)
		want  [2]int // days on which the two loads' tasks end
	}{
		{"one line", func(s *shop.Shop) { shoptest.AddLine(s, "P", 2, 5, 1) }, [2]int{5, 5}},
		{"a line due today first", func(s *shop.Shop) {
			shoptest.AddLine(s, "P", 1, 5, 1)
			shoptest.AddLine(s, "P", 1, 0, 1)
		}, [2]int{0, 5}},
		{"the last day to finish and ship in time", func(s *shop.Shop) {
			s.Products[0].FinishDays = 3
			shoptest.AddLine(s, "P", 2, 5, 1)
		}, [2]int{2, 2}},
		{"held for nothing", func(s *shop.Shop) {
			s.Policy.HoldCost = 0
			shoptest.AddLine(s, "P", 2, 5, 1)
		}, [2]int{0, 0}},
		// One ends at the very midnight before nobody is there any more.
		{"nobody there when due", func(s *shop.Shop) {
			s.Downtime = []shop.Downtime{{Resource: "trim", From: day(s, 4), To: day(s, 9)}}
			shoptest.AddLine(s, "P", 2, 5, 1)
		}, [2]int{3, 4}},
		{"an order that waits for its other line", func(s *shop.Shop) {
			s.Products = append(s.Products, shoptest.BareProduct("Q", "T"))
			for _, product := range []string{"P", "Q"} {
				l := shoptest.AddLine(s, product, 2, 5, 1)
				l.Order, l.Complete = "order", true
			}
			s.Products[1].Stock = 2
		}, [2]int{0, 5}},
	}
	for _, c := range cases {
		s := shoptest.Bare()
		s.Policy.HoldCost = 0.1
		c.alter(s)
		a := begin(t, s, []rack.Run{{Section: 0, Pieces: 1}}, []rack.Run{{Section: 0, Pieces: 1}})
		before := a.Cost()
		tidy.Answer(a)
		got := trimDays(a)
		slices.Sort(got)
		if [2]int(got) != c.want || a.Cost().Late != before.Late || a.Cost().Total() > before.Total() {
			t.Errorf("%s: trimmed by day %v for %v, want %v; it was %v", c.name, got, a.Cost(), c.want, before)
		}
	}
}

// day returns the midnight that begins a day of a bare shop.
func day(s *shop.Shop, n int64) shop.Instant { return shop.InstantIn(s.Now.Minute+n*1440, s.Zone()) }
