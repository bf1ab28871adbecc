package web

import (
	"fmt"
	"io"
	"slices"

	"blankwright/api/runs"
	"blankwright/store"
)

// A PlansPage lists the plans that were made, the latest first.
type PlansPage struct {
	Frame
	Plans []store.Plan
	Older string // the address of the older ones; empty where there are none
	May   Planning
}

// Render writes the page.
func (p *PlansPage) Render(w io.Writer) error { return render(w, "plans", p) }

// Made reports whether a plan is there to be looked at.
func (p *PlansPage) Made(plan store.Plan) bool {
	return plan.State != store.PlanRunning && plan.State != store.PlanFailed
}

// To is the place of the latest plan that is there, which is compared unless the
// reader says otherwise.
func (p *PlansPage) To() int { return slices.IndexFunc(p.Plans, p.Made) }

// From is the place of the one before it.
func (p *PlansPage) From() int {
	to := p.To()
	if at := slices.IndexFunc(p.Plans[to+1:], p.Made); at >= 0 {
		return to + 1 + at
	}
	return to
}

// A ComparePage sets two plans against each other.
type ComparePage struct {
	Frame
	Before, After *store.Plan
	Difference    runs.Difference
	May           Planning
}

// Render writes the page.
func (p *ComparePage) Render(w io.Writer) error { return render(w, "compare", p) }

// Cheaper says in words what the later plan costs against the earlier.
func (p *ComparePage) Cheaper() string {
	change := p.After.Cost.Total - p.Before.Cost.Total
	switch {
	case change < -0.005:
		return p.Money(-change) + " less than"
	case change > 0.005:
		return p.Money(change) + " more than"
	}
	return "as much as"
}

// Terms are the cost's terms of both plans.
func (p *ComparePage) Terms() []TermPair {
	a, b := p.Before.Cost, p.After.Cost
	return []TermPair{
		{"sets that ship after they are due", a.Late, b.Late},
		{"sets that wait to be shipped", a.Hold, b.Hold},
		{"loads and cure hours", a.Oven, b.Oven},
		{"set-ups at the stations", a.Setup, b.Setup},
		{"in all", a.Total, b.Total},
	}
}

// A TermPair is one term of two plans' cost.
type TermPair struct {
	Name          string
	Before, After float64
}

// Change is what the later costs more.
func (t TermPair) Change() float64 { return t.After - t.Before }

// A RunPage shows how far a plan in the making is.
type RunPage struct {
	Frame
	ID       int64
	Progress runs.Progress
	Ask      string // where its script asks how far it is
	Then     string // where the plan is shown when it is there
}

// Render writes the page.
func (p *RunPage) Render(w io.Writer) error { return render(w, "run", p) }

// Text says where the run stands.
func (p *RunPage) Text() string { return progressText(p.Progress) }

func progressText(g runs.Progress) string {
	switch g.Stage {
	case runs.StageFailed:
		return "It was not made: " + g.Failure
	case runs.StagePlanning:
		if g.Cost > 0 {
			return fmt.Sprintf("Planning: %d of %d tries, cost %.2f, at most %.0f %% from the cheapest", g.Iterations, g.Of, g.Cost, 100*g.Gap)
		}
		return "Planning: the first answer"
	case runs.StageDone:
		return "The plan is there."
	}
	return "It is " + g.Stage + "."
}

// Pair is the difference as the page's parts take it.
func (p *ComparePage) Pair() *runs.Difference { return &p.Difference }
