package answer_test

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shoptest"
)

// Of two loads for one oven, that which goes in first has its time, and the other
// waits; but in turn, the one that is listed first has its time.
func TestTry_InTurn(t *testing.T) {
	s := shoptest.Bare() // 62 minutes a load
	shoptest.AddLine(s, "P", 2, 0, 1)
	in := instance.New(shoptest.Accepted(s))
	for _, c := range []struct {
		inTurn           bool
		listed, earliest line.Tick
	}{{false, 112, 50}, {true, 100, 162}} {
		a := answer.New(in)
		var loads []*line.Load
		for _, target := range []line.Tick{100, 50} {
			l, _ := line.NewLoad(in, a.NewID(), 0, 0, []rack.Run{{Section: 0, Pieces: 1}})
			l.Target = target
			loads = append(loads, l)
		}
		if !a.Try(answer.Change{In: loads, InTurn: c.inTurn}) {
			t.Fatal("no place")
		}
		if loads[0].In != c.listed || loads[1].In != c.earliest {
			t.Errorf("in turn %t: in at %d and %d, want %d and %d", c.inTurn, loads[0].In, loads[1].In, c.listed, c.earliest)
		}
	}
}
