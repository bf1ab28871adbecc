package main

import (
	"context"
	"fmt"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
)

// searchOptions say how to search.
type searchOptions struct {
	seed   uint64
	effort int           // below 0: the planner's own
	limit  time.Duration // 0: none
	// usualLimit is the limit where none is asked for. A search under another, of which
	// no effort is asked, goes on for all its time.
	usualLimit time.Duration
	study      bool // what one thing more would bring the late lines
}

// fill reports whether a search goes on for all its time.
func (o *searchOptions) fill() bool { return o.effort < 0 && o.limit > 0 && o.limit != o.usualLimit }

// A planned shop is what the planner made of it, and why it stopped.
type planned struct {
	*scheduler.Result
	shop    *shop.Shop
	seed    uint64
	studied bool   // whether a study was asked for
	stopped string // byInterrupt, byLimit or the planner's own reason
}

// search plans a shop, and has the plan checked by the rules before anybody
// sees it.
func (w *world) search(ctx context.Context, s *shop.Shop, o searchOptions) (*planned, error) {
	stop := newStopper(w.now, o.limit)
	end := stop.onInterrupt()
	defer end()
	options := scheduler.Options{Seed: o.seed, Effort: o.effort, Stop: stop.stop, Spent: stop.spent, Fill: o.fill()}
	if o.study {
		options.Study = -1
	}
	if w.terminal {
		line := &progressLine{out: w.stderr, now: w.now}
		options.Progress = line.show
		defer line.clear()
	}
	result, err := w.plan(ctx, s, options)
	if err != nil {
		return nil, fmt.Errorf("planning %s: %w", s.Name, err)
	}
	if err := proven(s, result); err != nil {
		return nil, err
	}
	p := &planned{Result: result, shop: s, seed: o.seed, studied: o.study, stopped: result.Stopped}
	if why := stop.reason(); p.stopped == scheduler.ByStop && why != "" {
		p.stopped = why
	} else if p.stopped == scheduler.ByStop && o.limit > 0 {
		p.stopped = byLimit // which has hurried the search on
	}
	return p, nil
}

// proven returns an error for a plan that breaks the rules, which would be the
// planner's fault.
func proven(s *shop.Shop, r *scheduler.Result) error {
	breaches := check.Plan(s, r.Plan).Breaches
	if len(breaches) == 0 {
		return nil
	}
	return fmt.Errorf("internal error: the plan found has %s, the first being %s; nothing is written",
		breachCount(len(breaches)), breaches[0])
}
