package search

import (
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shoptest"
)

// An island that lies behind another by more than a change may cost goes on from the
// other's best answer, in loads of its own; one that lies behind by less goes on from
// its own.
func TestIsland_Adopt(t *testing.T) {
	in := instance.New(shoptest.Accepted(shoptest.Grow(7, 400)))
	better, worse := construct.Build(in, construct.Rules[0], nil), answer.New(in)
	for _, c := range []struct {
		start float64
		takes bool
	}{{0, true}, {1e15, false}} {
		from, to := newIsland(better.Copy(), 1, 0), newIsland(worse.Copy(), 1, 1)
		before := to.best
		to.start = c.start
		to.adopt(from)
		if took := to.best == from.best; took != c.takes {
			t.Fatalf("%d behind, where a change may cost %g: best %d", before-from.best, c.start, to.best)
		}
		if to.a.Cost().Total() != to.best || to.adopted != before-to.best {
			t.Errorf("costs %d, best %d, adopted %d of %d", to.a.Cost().Total(), to.best, to.adopted, before-to.best)
		}
		for i, l := range to.a.Loads {
			if l == from.a.Loads[i] {
				t.Errorf("load %d is the other island's own", l.ID)
			}
		}
	}
}
