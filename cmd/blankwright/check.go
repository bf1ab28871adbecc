package main

import (
	"context"
	"flag"
	"fmt"
	"strings"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
)

type checkOptions struct{ asJSON bool }

func checkCommand() *command {
	return &command{
		name:  "check",
		files: []string{"SHOP", "PLAN"},
		brief: "check a plan by every rule and recount its cost",
		about: `Checks the plan in the file PLAN for the shop in the file SHOP by every rule,
apart from how it was made, and recounts its cost. Each breach is one line: the
rule, where it is broken, and the numbers. Exit code 1 when there is any.
`,
		bind: func(set *flag.FlagSet) action {
			o := &checkOptions{}
			set.BoolVar(&o.asJSON, "json", false, "print the breaches and the cost, or a file's problems, as JSON")
			return o.run
		},
	}
}

func (o *checkOptions) run(_ context.Context, w *world, files []string) error {
	s, p, err := w.readBoth(files, o.asJSON)
	if err != nil {
		return err
	}
	report := check.Plan(s, p)
	if o.asJSON {
		err = w.json(struct {
			Breaches []check.Breach `json:"breaches"`
			Cost     plan.Cost      `json:"cost"`
		}{append([]check.Breach{}, report.Breaches...), report.Cost})
	} else {
		_, err = fmt.Fprint(w.stdout, checkText(report, p))
	}
	if err == nil && !report.Valid() {
		return &failure{code: exitBroken}
	}
	return err
}

func checkText(r *check.Report, p *plan.Plan) string {
	var out strings.Builder
	for _, b := range r.Breaches {
		fmt.Fprintln(&out, b)
	}
	t := table{align: "lrr"}
	t.row("", "recounted", "the plan says")
	for _, term := range []struct {
		name        string
		here, there float64
	}{
		{"  late", r.Cost.Late, p.Cost.Late},
		{"  hold", r.Cost.Hold, p.Cost.Hold},
		{"  oven", r.Cost.Oven, p.Cost.Oven},
		{"  setup", r.Cost.Setup, p.Cost.Setup},
		{"total", r.Cost.Total, p.Cost.Total},
	} {
		t.row(term.name, money(term.here), money(term.there))
	}
	if r.Valid() {
		out.WriteString("The plan breaks no rule.\n")
	} else {
		fmt.Fprintf(&out, "%s.\n", breachCount(len(r.Breaches)))
	}
	return out.String() + "\n" + t.text("")
}

func breachCount(n int) string {
	if n == 1 {
		return "1 breach"
	}
	return grouped(n) + " breaches"
}
