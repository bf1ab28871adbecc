package main

import (
	"fmt"
	"strings"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// explanationText is what is told of one line, as text.
func explanationText(s *shop.Shop, e *scheduler.Explanation) string {
	var out strings.Builder
	fmt.Fprintf(&out, "%s, planned from %s\n\n", s.Name, day(s.Now))
	out.WriteString(lineText(&e.Line))
	out.WriteString("\nWhat one thing more would bring it: days by which its last set ships sooner,\nsets more that are planned, and money\n")
	out.WriteString(gainsText(e.Gains))
	var others []string
	for i := range e.Gains {
		if !e.Gains[i].Brings() {
			others = append(others, e.Gains[i].What)
		}
	}
	out.WriteString(othersText(others, e.LeftOut))
	out.WriteString(paragraph("  ", asItIsText(e)+triedText(e.Tries)))
	return out.String()
}

// gainsText is a table of what brings a line anything.
func gainsText(gains []scheduler.Gain) string {
	t := table{align: "rrrrll"}
	t.row("days", "sets", "line saves", "plan saves", "ships by", "with")
	for i := range gains {
		if g := &gains[i]; g.Brings() {
			t.row(more(g.DaysSooner), more(g.SetsMore), moreMoney(g.Saves), moreMoney(g.PlanSaves), shipText(g.Ship), g.What)
		}
	}
	if len(t.rows) == 1 {
		return ""
	}
	return t.text("  ")
}

// othersText names what brings nothing that was found, and counts what was not
// tried.
func othersText(others []string, leftOut int) string {
	out := ""
	if len(others) > 0 {
		out += paragraph("  ", fmt.Sprintf("Nothing was found with: %s.", strings.Join(others, ", ")))
	}
	if leftOut > 0 {
		out += paragraph("  ", fmt.Sprintf("Not tried, for want of time: %s.", counted(leftOut, "thing")))
	}
	return out
}

// asItIsText tells what comes of the plan with nothing more, where that is not
// what it is.
func asItIsText(e *scheduler.Explanation) string {
	then := scheduler.LineReport{
		Ship: e.AsItIs.Ship, LateSets: e.AsItIs.LateSets, UnallocatedSets: e.AsItIs.UnallocatedSets,
		DaysLate: e.AsItIs.DaysLate, Cost: e.AsItIs.Cost,
	}
	if e.AsItIs.PlanCost > e.Plan-leastMoney && fate(&then) == fate(&e.Line) {
		return ""
	}
	return fmt.Sprintf("With nothing more, as many changes bring the plan from %s to %s, and this line to: %s. What is told above comes on top. ",
		money(e.Plan), money(e.AsItIs.PlanCost), fate(&then))
}

// leastMoney is the least amount that prints as one.
const leastMoney = 0.005

// triedText says how gains are known, and what that proves.
func triedText(tries int) string {
	return fmt.Sprintf("How that is known: changes of the plan were tried with the one thing more, and as many without it, in rounds of %s at most; "+
		"what was found with it but stands without it is not counted. So much is to be had; there may be more.", grouped(tries))
}

func shipText(d *shop.Date) string {
	if d == nil {
		return "–"
	}
	return d.String()
}

// more prints a number of days or sets, a dash for none.
func more(n int) string {
	if n == 0 {
		return "–"
	}
	return grouped(n)
}

func moreMoney(amount float64) string {
	if -leastMoney < amount && amount < leastMoney {
		return "–"
	}
	return money(amount)
}
