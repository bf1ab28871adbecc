package runs

import (
	"context"
	"errors"
	"fmt"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// carry makes one plan, from waiting to keeping. Whatever goes wrong on the way
// ends this run alone; the plan in force stays as it is.
func (m *Manager) carry(ctx context.Context, run *Run, ask Ask) {
	defer m.running.Done()
	m.turn <- struct{}{}
	defer func() { <-m.turn }()
	err := m.make(ctx, run, ask)
	if err != nil {
		m.options.Log.Error("plan failed", "plan", run.ID, "why", run.Why, "error", err)
		if kept := m.books.FailPlan(ctx, run.ID, err.Error()); kept != nil {
			m.options.Log.Error("failure of a plan not kept", "plan", run.ID, "error", kept)
		}
	}
	m.leave(run)
	run.end(err)
}

// leave has nobody join a run any more.
func (m *Manager) leave(run *Run) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.joinable == run {
		m.joinable = nil
	}
}

// make makes and keeps one plan. A panic of the planner is an error of this run.
func (m *Manager) make(ctx context.Context, run *Run, ask Ask) (err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("internal error: the planner broke off: %v", cause)
		}
	}()
	run.stage(StageStock)
	stock := &Stock{Shop: ask.Shop}
	if ask.Shop == nil {
		if stock, err = m.books.Stock(ctx); err != nil {
			return fmt.Errorf("taking stock: %w", err)
		}
	}
	made, err := m.plan(ctx, run, stock)
	if err != nil {
		return err
	}
	return m.keep(ctx, run, made)
}

// plan plans a shop, and has the plan judged by the rules before anybody sees it.
func (m *Manager) plan(ctx context.Context, run *Run, stock *Stock) (*planned, error) {
	run.stage(StagePlanning)
	o := m.search(stock.Shop, run)
	result, err := m.options.Plan(ctx, stock.Shop, o)
	if err != nil {
		return nil, fmt.Errorf("planning: %w", err)
	}
	run.stage(StageChecking)
	if b := check.Plan(stock.Shop, result.Plan).Breaches; len(b) > 0 {
		return nil, fmt.Errorf("internal error: the plan that was found breaks %s, the first being %s; it is not kept", counted(len(b), "rule"), b[0])
	}
	run.found(result.Plan.Cost, result.Plan.Bound)
	return &planned{
		stock: stock, shop: stock.Shop, plan: result.Plan, report: ReportOf(result),
		Figures: store.Figures{
			Now: stock.Shop.Now.Time().UTC(), Seed: o.Seed, Effort: o.Effort, Iterations: result.Iterations,
			Stopped: result.Stopped, Cost: result.Plan.Cost, Bound: result.Plan.Bound,
			Loads: len(result.Plan.Loads), Late: len(result.Lines),
		},
	}, nil
}

// search says how to plan a shop: wholly, so that the plan can be made again from
// what the books keep.
func (m *Manager) search(s *shop.Shop, run *Run) scheduler.Options {
	o := scheduler.Options{Seed: m.options.Seed, Effort: m.options.Effort, Stop: m.stop(run), Yield: m.way.give, Progress: run.report}
	if o.Seed == 0 {
		o.Seed = scheduler.DefaultSeed
	}
	if o.Effort == 0 {
		o.Effort = scheduler.DefaultEffort(instance.New(s))
	}
	return o
}

// report takes the planner's progress.
func (r *Run) report(now scheduler.Progress) {
	r.change(func(p *Progress) {
		p.Cost, p.Bound, p.Iterations, p.Of = now.Cost, now.Bound, now.Iteration, now.Effort
		if p.Gap = 0; p.Cost > 0 {
			p.Gap = (p.Cost - p.Bound) / p.Cost
		}
	})
}

// keep writes the plan down, with what of it needs eyes. A quote raises nothing.
func (m *Manager) keep(ctx context.Context, run *Run, made *planned) error {
	report, err := made.report.encode()
	if err != nil {
		return err
	}
	var raised []store.Raised
	if run.Why != store.PlanByQuote {
		if raised, err = m.raise(ctx, made); err != nil {
			return err
		}
	}
	m.leave(run) // who sees this plan and asks again wants another
	files := store.PlanFiles{Shop: made.shop.Encode(), Plan: made.plan.Encode(), Report: report}
	if err := m.books.KeepPlan(ctx, run.ID, made.Figures, files, raised); err != nil {
		return fmt.Errorf("keeping the plan: %w", err)
	}
	return nil
}

// raise returns what needs eyes, against the plan before.
func (m *Manager) raise(ctx context.Context, made *planned) ([]store.Raised, error) {
	sight := Sight{
		Shop: made.shop, Plan: made.plan, Report: made.report,
		Promised: made.stock.Promised, Held: made.stock.Held, Due: made.stock.Due, Troubles: made.stock.Troubles, OffLoads: made.stock.OffLoads,
	}
	switch before, err := m.views.Latest(ctx); {
	case err == nil:
		sight.Before = before.Shippings
	case !errors.Is(err, store.ErrNotFound):
		return nil, fmt.Errorf("reading the plan before: %w", err)
	}
	var list []store.Raised
	for _, n := range Notices(sight) {
		list = append(list, store.Raised(n))
	}
	return list, nil
}
