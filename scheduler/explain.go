package scheduler

import (
	"context"
	"fmt"

	"blankwright/scheduler/explain"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// An Explanation tells of one line what binds it, and what one thing more would
// bring.
type Explanation = explain.Explanation

// A Gain is what one thing more brings a line.
type Gain = explain.Gain

// A Study tells what one thing more would bring a plan as a whole, and each of
// its late lines.
type Study = explain.Study

// A Thing is what one thing more brings a plan.
type Thing = explain.Thing

// An Outcome is what becomes of a line in some plan.
type Outcome = explain.Outcome

// ExplainOptions say how far to look.
type ExplainOptions struct {
	Tries    int                 // changes tried in each shop; below 0: a number that suits the plan
	Progress func(done, all int) // relaxations; may be nil; one call at a time
	Stop     func() bool         // polled; true leaves relaxations out; may be nil
}

// Explain explains the line of an id in a plan that keeps every rule of a shop.
// The error says that there is no such line, or is ctx's, where that ends before
// anything is known.
func Explain(ctx context.Context, s *shop.Shop, p *plan.Plan, line string, o ExplainOptions) (*Explanation, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i := range s.Demand {
		if s.Demand[i].ID == line {
			stop := func() bool { return ctx.Err() != nil || o.Stop != nil && o.Stop() }
			return explain.Line(s, p, i, explain.Options{Tries: o.Tries, Stop: stop, Report: o.Progress}), nil
		}
	}
	return nil, fmt.Errorf("there is no line %q", line)
}
