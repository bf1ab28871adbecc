package scheduler

import (
	"context"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/binding"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/explain"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
)

// Plan plans a shop that shop.Read has accepted. What cannot be made stays
// unallocated in the plan, and Lines says why; it is no error. The error is
// ctx's, where that ends before there is any plan.
func Plan(ctx context.Context, s *shop.Shop, o Options) (*Result, error) {
	in := instance.New(s)
	o = o.withDefaults(in)
	r := &run{ctx: ctx, in: in, low: prove(in), o: o}
	starts := r.first()
	if len(starts) == 0 {
		return nil, ctx.Err()
	}
	a, trace := search.Improve(starts, search.Options{
		Seed: o.Seed, Effort: o.Effort, Report: r.report, Spent: o.Spent, Fill: o.Fill, Yield: o.Yield, Enough: r.enough(),
	})
	r.cut, r.filled = r.cut || r.short || trace.Hurried, trace.Filled
	p, low := a.Plan(), r.low.wait()
	p.Bound = boundOf(in, p, low)
	lines := binding.Of(a)
	return &Result{
		Plan: p, Terms: terms(in, p, low), Lines: lines, Study: r.study(p, lines),
		Iterations: trace.Iterations, Stopped: r.stopped(a), Trace: traceOf(in, trace),
	}, nil
}

// A run is one call of Plan.
type run struct {
	ctx    context.Context
	in     *instance.Instance
	low    *proving
	o      Options
	cut    bool // ended before its effort was spent
	short  bool // had no time for all first answers that suit the effort
	filled bool // went on after that
}

func (r *run) over() bool {
	if r.interrupted() {
		r.cut = true
	}
	return r.cut
}

// report passes progress on, and ends the search where that is asked.
func (r *run) report(done int, best answer.Money) bool {
	r.tell(done, best)
	return !r.over()
}

func (r *run) tell(done int, best answer.Money) {
	if r.o.Progress != nil {
		fixed := r.in.ReleasedCost()
		r.o.Progress(Progress{
			Iteration: done, Effort: r.o.Effort,
			Cost: r.in.Price(best + fixed.Oven + fixed.Setup), Bound: r.in.Price(r.low.total()),
		})
	}
}

// study asks what one thing more would bring the late lines, where that is asked
// for and the search was not ended early.
func (r *run) study(p *plan.Plan, late []LineReport) *Study {
	if r.o.Study == 0 || len(late) == 0 || r.cut {
		return nil
	}
	o := explain.Options{Tries: r.o.Study, Stop: r.interrupted}
	if r.o.Progress != nil {
		o.Report = func(done, all int) {
			r.o.Progress(Progress{
				Iteration: r.o.Effort, Effort: r.o.Effort, Cost: p.Cost.Total, Bound: p.Bound.Total, Tried: done, ToTry: all,
			})
		}
	}
	return explain.Of(r.in.Shop, p, late, o)
}

// interrupted is over for what comes after the search, which that does not cut.
func (r *run) interrupted() bool { return r.ctx.Err() != nil || r.o.Stop != nil && r.o.Stop() }

// enough returns a cost below which there is no answer, but for roundings. It waits
// for the bound, so that what a search does never hangs on the clock.
func (r *run) enough() answer.Money {
	fixed := r.in.ReleasedCost()
	return r.low.wait().Total() - fixed.Oven - fixed.Setup + r.in.Money(roundings)
}

// roundings is more than a bound loses by counting in whole money.
const roundings = 1e-6

func (r *run) stopped(a *answer.Answer) string {
	switch {
	case a.Cost().Total() <= r.enough():
		return ByBound
	case r.cut:
		return ByStop
	case r.filled:
		return ByTime
	}
	return ByEffort
}

// boundOf states the bound of a plan. Where it meets the cost, it is the cost
// as the plan states it, to the last digit.
func boundOf(in *instance.Instance, p *plan.Plan, low bound.Proof) plan.Bound {
	b := plan.Bound{Total: min(in.Price(low.Total()), p.Cost.Total)}
	if p.Cost.Total > 0 {
		b.Gap = (p.Cost.Total - b.Total) / p.Cost.Total
	}
	return b
}

func terms(in *instance.Instance, p *plan.Plan, low bound.Proof) []BoundTerm {
	return []BoundTerm{
		{"late", p.Cost.Late, in.Price(low.Late), low.By.Late},
		{"hold", p.Cost.Hold, in.Price(low.Hold), low.By.Hold},
		{"oven", p.Cost.Oven, in.Price(low.Oven), low.By.Oven},
		{"setup", p.Cost.Setup, in.Price(low.Setup), low.By.Setup},
	}
}
