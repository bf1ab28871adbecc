package main

import (
	"context"
	"flag"
	"fmt"
	"slices"
	"strings"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// An explainer tells what one thing more would bring a line of a plan:
// scheduler.Explain, or a stand-in for it.
type explainer func(context.Context, *shop.Shop, *plan.Plan, string, scheduler.ExplainOptions) (*scheduler.Explanation, error)

type explainOptions struct {
	limit  time.Duration
	asJSON bool
}

func explainCommand() *command {
	return &command{
		name:  "explain",
		files: []string{"SHOP", "PLAN", "LINE"},
		brief: "tell what one thing more would bring a line",
		about: `Tells what holds back the line with the id LINE, in the plan in the file PLAN for
the shop in the file SHOP, and what it would bring to have one thing more: one
more mandrel, rack, oven, position or person, an oven open around the clock,
more of a prepreg, a wider limit. For each, the plan is bettered with that thing
and as long without it. What it brings is told in days and in the shop's money,
and so is what was tried and brings nothing. Ctrl-C leaves out what has not been
tried yet. Of a plan that breaks rules nothing is told; exit code 1.
`,
		bind: func(set *flag.FlagSet) action {
			o := &explainOptions{}
			bindLimit(set, &o.limit, "leave out what has not been tried")
			set.BoolVar(&o.asJSON, "json", false, "print what is told, or a file's problems, as JSON")
			return o.run
		},
	}
}

func (o *explainOptions) run(ctx context.Context, w *world, args []string) error {
	s, p, err := w.readBoth(args[:2], o.asJSON)
	if err != nil {
		return err
	}
	if err := hasLine(s, args[2]); err != nil {
		return err
	}
	if breaches := check.Plan(s, p).Breaches; len(breaches) > 0 {
		return &failure{exitBroken, fmt.Sprintf("the plan has %s; `blankwright check` lists them", breachCount(len(breaches)))}
	}
	e, err := o.explain(ctx, w, s, p, args[2])
	if err != nil {
		return fmt.Errorf("explaining %s: %w", args[2], err)
	}
	if o.asJSON {
		return w.json(explanationFactsOf(s, e))
	}
	_, err = fmt.Fprint(w.stdout, explanationText(s, e))
	return err
}

// explain has the line explained, with progress on a terminal.
func (o *explainOptions) explain(ctx context.Context, w *world, s *shop.Shop, p *plan.Plan, id string) (*scheduler.Explanation, error) {
	stop := newStopper(w.now, o.limit)
	end := stop.onInterrupt()
	defer end()
	options := scheduler.ExplainOptions{Tries: -1, Stop: stop.stop}
	if w.terminal {
		line := &progressLine{out: w.stderr, now: w.now}
		options.Progress = line.tried
		defer line.clear()
	}
	return w.explain(ctx, s, p, id, options)
}

// mostOffered is how many lines are named where the one asked for is not there.
const mostOffered = 40

// hasLine returns an error for a line that a shop has not got.
func hasLine(s *shop.Shop, id string) error {
	var ids []string
	for i := range s.Demand {
		ids = append(ids, s.Demand[i].ID)
	}
	switch {
	case slices.Contains(ids, id):
		return nil
	case len(ids) == 0:
		return bad("explain: there is no line %q; the shop has none", id)
	case len(ids) > mostOffered:
		ids = append(ids[:mostOffered], fmt.Sprintf("and %s more", grouped(len(ids)-mostOffered)))
	}
	return bad("explain: there is no line %q; there are %s", id, strings.Join(ids, ", "))
}
