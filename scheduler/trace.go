package scheduler

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
)

// A Trace tells how a search went, in the shop's money. The same shop, seed and
// effort have the same trace.
type Trace struct {
	Moves  []MoveTally
	Points []TracePoint // by heat, then by island, then by iteration
}

// A MoveTally counts what one move did, on all islands. Drawn, summed over the
// moves, is the iterations of the search; each count after it is a part of the
// one before. Gain is by how much the move bettered the best answer of its
// island, summed.
type MoveTally struct {
	Move                                    string
	Drawn, Proposed, Placed, Kept, Bettered int
	Gain                                    float64
}

// A TracePoint is where an island stands in a heat, after so many iterations of
// its own: the cost of its best answer, and of the one at hand. Heats count from
// 1, islands from 0.
type TracePoint struct {
	Heat, Island, Iteration int
	Best, Current           float64
}

// traceOf puts a trace into the shop's money. Costs have the released work's in
// them, as the plan's has.
func traceOf(in *instance.Instance, t *search.Trace) Trace {
	fixed := in.ReleasedCost()
	cost := func(m instance.Money) float64 { return in.Price(m + fixed.Oven + fixed.Setup) }
	var out Trace
	for _, m := range t.Moves {
		out.Moves = append(out.Moves, MoveTally{m.Move, m.Drawn, m.Proposed, m.Placed, m.Kept, m.Bettered, in.Price(m.Gain)})
	}
	for _, p := range t.Points {
		out.Points = append(out.Points, TracePoint{p.Heat, p.Island, p.Iteration, cost(p.Best), cost(p.Current)})
	}
	return out
}
