package tidy_test

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/tidy"
)

// begin returns an answer to a shop with a load for each list of runs.
func begin(t *testing.T, s *shop.Shop, loads ...[]rack.Run) *answer.Answer {
	t.Helper()
	a := answer.New(instance.New(shoptest.Accepted(s)))
	for _, runs := range loads {
		l, ok := line.NewLoad(a.In, a.NewID(), 0, 0, runs)
		if !ok || !a.Try(answer.Change{In: []*line.Load{l}}) {
			t.Fatalf("%v find no place", runs)
		}
		a.Keep()
	}
	return a
}

// Of pieces that are made although others come in, those stay that keep sets from
// being late.
func TestAnswer_ShedsWhatBringsNothing(t *testing.T) {
	cases := []struct {
		name            string
		due, made, left int
	}{
		{"the others come soon enough", 9, 4, 0},
		{"the others come too late", 3, 4, 4},
		{"more are made than asked for", 3, 7, 4},
	}
	for _, c := range cases {
		s := shoptest.Bare()
		shoptest.AddLine(s, "P", 4, c.due, 1)
		s.Incoming = []shop.Incoming{{Section: "S", Pieces: 4, At: shop.InstantIn(s.Now.Minute+5*1440, s.Zone())}}
		a := begin(t, s, []rack.Run{{Section: 0, Pieces: 1}}, []rack.Run{{Section: 0, Pieces: c.made - 1}})
		before := a.Cost().Total()
		tidy.Answer(a)
		if a.Spare[0] != -c.left || a.Cost().Total() > before {
			t.Errorf("%s: %d pieces are left of %d, want %d", c.name, -a.Spare[0], c.made, c.left)
		}
	}
}
