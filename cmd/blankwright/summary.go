package main

import (
	"fmt"
	"strings"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// mostLines is how many late lines a text tells of.
const mostLines = 12

// summary is what a planner wants to know of a new plan, as text.
func (p *planned) summary(file string) string {
	var out strings.Builder
	fmt.Fprintf(&out, "%s, planned from %s\n\n", p.shop.Name, day(p.shop.Now))
	out.WriteString(p.costText() + "\n")
	out.WriteString(p.workText())
	out.WriteString(p.linesText())
	out.WriteString(p.studyText())
	out.WriteString("\n" + p.endText())
	if file != standard {
		fmt.Fprintf(&out, "The plan is in %s\n", file)
	}
	return out.String()
}

// day prints an instant by its own offset, as Thu 26 Nov 2026 06:00.
func day(i shop.Instant) string { return i.Time().Format("Mon 2 Jan 2006 15:04") }

// costText is the cost by term, each with its bound, gap, and what proves it. A
// term may cost less than its part of what is proven of several together.
func (p *planned) costText() string {
	t, together := table{align: "lrrrl"}, ""
	t.row("", "cost", "bound", "gap", "proven by")
	for _, term := range p.Terms {
		share := percent(gap(term.Cost, term.Bound))
		if term.Bound > term.Cost+cents {
			share, together = "–", "The bounds hold for the terms together, not for each alone: – marks a term below its part.\n"
		}
		t.row("  "+term.Term, money(term.Cost), money(term.Bound), share, term.By)
	}
	t.row("total", money(p.Plan.Cost.Total), money(p.Plan.Bound.Total), percent(p.Plan.Bound.Gap))
	return t.text("") + together
}

// cents is less than what money is printed to.
const cents = 0.005

// workText counts what the plan makes.
func (p *planned) workText() string {
	f := p.facts("")
	return fmt.Sprintf("%s, %s, %s; %s: %s in time, %s late, %s not wholly planned\n",
		counted(f.Loads, "load"), counted(f.Pieces, "piece"), counted(f.Tasks, "task"),
		counted(f.Lines.All, "line"), grouped(f.Lines.InTime), grouped(f.Lines.Late), grouped(f.Lines.NotPlanned))
}

// linesText tells of the late and unplanned lines, the worst first.
func (p *planned) linesText() string {
	if len(p.Lines) == 0 {
		return "Every line ships in time.\n"
	}
	var out strings.Builder
	out.WriteString("\nLate or not wholly planned, the worst first\n")
	for i, l := range p.Lines {
		if i == mostLines {
			fmt.Fprintf(&out, "  and %s more; -json lists all\n", counted(len(p.Lines)-mostLines, "line"))
			break
		}
		out.WriteString(lineText(&l))
		out.WriteString(p.lineGainsText(l.Line))
	}
	return out.String()
}

func lineText(l *scheduler.LineReport) string {
	what := fmt.Sprintf("%s × %s", grouped(l.Quantity), l.Product)
	if l.Order != "" {
		what += ", order " + l.Order
	}
	text := paragraph("  "+l.Line+"  ", fmt.Sprintf("%s, due %s: %s", what, l.Due, fate(l)))
	for _, b := range l.Binds {
		text += paragraph("      ", strings.TrimSpace(b.Kind+" "+b.ID)+": "+b.What)
		text += paragraph("        ", "How that is known: "+b.How)
	}
	return text
}

// fate says what becomes of a line.
func fate(l *scheduler.LineReport) string {
	var parts []string
	if l.LateSets > 0 && l.Ship != nil {
		parts = append(parts, fmt.Sprintf("%s late, ships by %s, %s late", counted(l.LateSets, "set"), l.Ship, counted(l.DaysLate, "day")))
	}
	if l.UnallocatedSets > 0 {
		parts = append(parts, counted(l.UnallocatedSets, "set")+" not planned")
	}
	if len(parts) > 0 {
		return strings.Join(append(parts, "costs "+money(l.Cost)), "; ")
	}
	if l.Ship == nil {
		return "in time"
	}
	return fmt.Sprintf("in time, ships by %s", l.Ship)
}

// endText says why the search ended, and how to have the same plan again.
func (p *planned) endText() string {
	after := fmt.Sprintf("after %s, seed %d", counted(p.Iterations, "iteration"), p.seed)
	switch p.stopped {
	case byInterrupt:
		return "Stopped by Ctrl-C " + after + ": this is the best plan so far.\n"
	case byLimit:
		return "Stopped at the limit " + after + ": this is the best plan so far.\n"
	case scheduler.ByTime:
		return "Ended with its time " + after + ".\n"
	case scheduler.ByBound:
		return "Ended " + after + ": no plan costs less.\n"
	}
	return fmt.Sprintf("Ended by %s %s.\n", p.stopped, after)
}
