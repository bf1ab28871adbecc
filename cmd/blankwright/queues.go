package main

import (
	"context"
	"flag"
	"fmt"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

type queuesOptions struct {
	date   *shop.Date // nil: the next day with work
	asJSON bool
}

func queuesCommand() *command {
	return &command{
		name:  "queues",
		files: []string{"SHOP", "PLAN"},
		brief: "print one day's work, to pin to the wall",
		about: `Prints what one day asks of the shop floor: prepreg to thaw, mandrels to issue,
each position's tasks in order, the oven times, and every rack drawn as it is to
be hung. Of a plan that breaks rules it says so, and exits with 1.
`,
		bind: func(set *flag.FlagSet) action {
			o := &queuesOptions{}
			set.Func("date", "the day, a `DATE` as 2026-11-27 (default: the first day with work that has not begun by the plan's now)", func(text string) error {
				o.date = new(shop.Date)
				return o.date.UnmarshalText([]byte(text))
			})
			set.BoolVar(&o.asJSON, "json", false, "print the day, or a file's problems, as JSON")
			return o.run
		},
	}
}

func (o *queuesOptions) run(_ context.Context, w *world, files []string) error {
	s, p, err := w.readBoth(files, o.asJSON)
	if err != nil {
		return err
	}
	breaches := len(check.Plan(s, p).Breaches)
	d := sheet.Of(s, p, o.day(s, p))
	if o.asJSON {
		err = w.json(struct {
			Breaches int `json:"breaches"`
			*sheet.Day
		}{breaches, d})
	} else {
		_, err = fmt.Fprint(w.stdout, dayText(d, breaches))
	}
	if err == nil && breaches > 0 {
		return &failure{exitBroken, fmt.Sprintf("the plan has %s; `blankwright check` lists them", breachCount(breaches))}
	}
	return err
}

func (o *queuesOptions) day(s *shop.Shop, p *plan.Plan) shop.Date {
	if o.date != nil {
		return *o.date
	}
	if next, ok := sheet.Next(s, p); ok {
		return next
	}
	return s.Today()
}
