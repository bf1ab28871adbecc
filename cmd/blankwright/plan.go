package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

type planOptions struct {
	searchOptions
	out    string
	trace  string
	asJSON bool
}

func planCommand() *command {
	return &command{
		name:  "plan",
		files: []string{"SHOP"},
		brief: "plan a shop and write the plan file",
		about: `Plans the shop in the file SHOP, checks the plan by every rule, writes it, and
says what it costs, how far it is at most from the cheapest (the gap to a proven
bound), and which lines are late or left out and why. On a terminal it shows
where it stands; Ctrl-C ends the search and writes the best plan so far, a
second Ctrl-C quits.
`,
		bind: func(set *flag.FlagSet) action {
			o := &planOptions{}
			set.StringVar(&o.out, "o", "", "write the plan to `FILE` (default: SHOP with .plan.json for its ending; standard output where SHOP is -)")
			set.StringVar(&o.trace, "trace", "", "write to `FILE` what each move of the search brought, and how the cost fell: JSON, a row to a line")
			set.BoolVar(&o.study, "explain", true, "tell what one thing more, as a mandrel or a position, would bring the late lines, unless the search is ended early; -explain=false leaves that out")
			set.BoolVar(&o.asJSON, "json", false, "print the summary, or a file's problems, as JSON")
			o.searchOptions.bind(set, 0)
			return o.run
		},
	}
}

func (o *planOptions) run(ctx context.Context, w *world, files []string) error {
	out := o.outFile(files[0])
	if err := o.checkOut(files[0], out); err != nil {
		return err
	}
	if err := o.checkTrace(files[0], out); err != nil {
		return err
	}
	s, err := w.readShop(files[0], o.asJSON)
	if err != nil {
		return err
	}
	p, err := w.search(ctx, s, o.searchOptions)
	if err != nil {
		return err
	}
	return o.deliver(w, p, out)
}

// outFile returns where the plan goes.
func (o *planOptions) outFile(shopFile string) string {
	switch {
	case o.out != "":
		return o.out
	case shopFile == standard:
		return standard
	}
	return strings.TrimSuffix(shopFile, filepath.Ext(shopFile)) + ".plan.json"
}

// checkOut refuses a place for the plan before the search has taken its time.
func (o *planOptions) checkOut(shopFile, out string) error {
	if out == standard {
		if o.asJSON {
			return bad("plan: the plan and -json both want standard output; name a file with -o")
		}
		return nil
	}
	if isSame(shopFile, out) {
		return bad("plan: %s is the shop file itself; name another with -o", out)
	}
	return writable(out)
}

// checkTrace refuses a place for the trace that is another file's.
func (o *planOptions) checkTrace(shopFile, out string) error {
	switch {
	case o.trace == "":
		return nil
	case o.trace == standard:
		return bad("plan: the trace wants a file of its own, not standard output")
	case isSame(shopFile, o.trace) || isSame(out, o.trace):
		return bad("plan: %s is the shop's or the plan's file; name another with -trace", o.trace)
	}
	return writable(o.trace)
}

// deliver writes the plan and its summary; where the plan takes standard
// output, the summary goes to standard error.
func (o *planOptions) deliver(w *world, p *planned, out string) error {
	var summary io.Writer = w.stdout
	if out == standard {
		if _, err := w.stdout.Write(p.Plan.Encode()); err != nil {
			return err
		}
		summary = w.stderr
	} else if err := write(out, p.Plan.Encode()); err != nil {
		return fmt.Errorf("writing %s: %w", out, err)
	}
	if err := o.deliverTrace(p); err != nil {
		return err
	}
	if o.asJSON {
		return w.json(p.facts(out))
	}
	_, err := fmt.Fprint(summary, p.summary(out))
	return err
}

func (o *planOptions) deliverTrace(p *planned) error {
	if o.trace == "" {
		return nil
	}
	rows, err := p.traceRows()
	if err == nil {
		err = write(o.trace, rows)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", o.trace, err)
	}
	return nil
}
