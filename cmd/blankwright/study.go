package main

import (
	"strings"

	"blankwright/scheduler"
)

// mostGains is how many things a text says that one more of would bring a late
// line.
const mostGains = 2

// lineGainsText says what one thing more would bring a late line.
func (p *planned) lineGainsText(line string) string {
	if p.Study == nil {
		return ""
	}
	out := ""
	for i := range p.Study.Lines[line] {
		if i == mostGains {
			break
		}
		g := &p.Study.Lines[line][i]
		out += paragraph("      + ", g.What+": "+gainText(g))
	}
	return out
}

// gainText says what a gain is, in days, sets and money.
func gainText(g *scheduler.Gain) string {
	var parts []string
	if g.DaysSooner != 0 {
		parts = append(parts, sooner(g.DaysSooner))
	}
	if g.SetsMore > 0 {
		parts = append(parts, counted(g.SetsMore, "set")+" more planned")
	}
	if g.Saves >= leastMoney {
		parts = append(parts, "the line costs "+money(g.Saves)+" less")
	}
	if g.PlanSaves >= leastMoney {
		parts = append(parts, "the plan "+money(g.PlanSaves)+" less")
	}
	return strings.Join(parts, ", ")
}

func sooner(days int) string {
	if days < 0 {
		return counted(-days, "day") + " later"
	}
	return counted(days, "day") + " sooner"
}

// studyText says what one thing more would bring the plan and its late lines.
func (p *planned) studyText() string {
	switch {
	case p.studied && len(p.Lines) > 0 && p.Study == nil:
		return "\n" + paragraph("", "What one thing more would bring was not tried, because the search was ended early; `blankwright explain` tells it of one line.")
	case p.Study == nil:
		return ""
	}
	t := table{align: "rrrrl"}
	t.row("plan saves", "lines", "days", "sets", "with")
	var others []string
	for _, thing := range p.Study.Things {
		if thing.PlanSaves < leastMoney && thing.Lines == 0 {
			others = append(others, thing.What)
			continue
		}
		t.row(moreMoney(thing.PlanSaves), more(thing.Lines), more(thing.DaysSooner), more(thing.SetsMore), thing.What)
	}
	out := "\nWhat one thing more would bring: money, late lines that gain, days by which\nthese ship sooner in all, sets more that are planned\n"
	if len(t.rows) > 1 {
		out += t.text("  ")
	}
	return out + othersText(others, p.Study.LeftOut) + paragraph("  ", triedText(p.Study.Tries))
}

// studyFacts are a study for programs.
type studyFacts struct {
	AsItIs  float64                `json:"as_it_is"` // the plan's cost with nothing more, as long tried
	Things  []thingFacts           `json:"things"`   // of all that was tried, what saves most first
	Lines   map[string][]gainFacts `json:"lines"`    // by the line's id: what brings it anything
	LeftOut int                    `json:"left_out"`
	Tries   int                    `json:"tries"`
}

type thingFacts struct {
	With       moreFacts `json:"with"`
	PlanSaves  float64   `json:"plan_saves"`
	Lines      int       `json:"lines"` // late ones that gain
	DaysSooner int       `json:"days_sooner"`
	SetsMore   int       `json:"sets_more"`
}

func (p *planned) studyFacts() *studyFacts {
	if p.Study == nil {
		return nil
	}
	f := &studyFacts{
		AsItIs: p.Study.AsItIs, Things: []thingFacts{}, Lines: map[string][]gainFacts{},
		LeftOut: p.Study.LeftOut, Tries: p.Study.Tries,
	}
	for _, t := range p.Study.Things {
		f.Things = append(f.Things, thingFacts{moreFactsOf(t.With, t.What), t.PlanSaves, t.Lines, t.DaysSooner, t.SetsMore})
	}
	for id, gains := range p.Study.Lines {
		f.Lines[id] = gainsFacts(gains)
	}
	return f
}
