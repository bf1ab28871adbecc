package main

import (
	"fmt"
	"strings"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// ovensText is every oven's day; nothing where all are cold.
func ovensText(d *sheet.Day, c clock) string {
	loads := map[string]*sheet.Load{}
	inOven := false
	for i := range d.Loads {
		loads[d.Loads[i].ID] = &d.Loads[i]
		inOven = inOven || d.Loads[i].InOven
	}
	if !inOven {
		return ""
	}
	out := heading("OVENS") + cautionsText(sheet.OvenCautions())
	for _, oven := range d.Ovens {
		out += ovenText(&oven, loads, c)
	}
	return out
}

func ovenText(oven *sheet.Oven, loads map[string]*sheet.Load, c clock) string {
	if len(oven.Loads) == 0 {
		return "  " + oven.ID + ": no load\n" + closuresText(oven.Closures, c)
	}
	t := table{align: "lllllllrr"}
	t.row("   ", "load", "in", "cure starts", "ends", "out", "pull from", "pcs", "kg")
	var profiles []string
	told := map[string]bool{}
	for _, id := range oven.Loads {
		l := loads[id]
		t.row(box, l.ID, c.at(l.In), c.at(l.CureStart), c.at(l.CureEnd), c.at(l.Out), c.at(l.PullFrom),
			grouped(l.Pieces), fmt.Sprintf("%s of %s", decimal(l.Kg, 1), decimal(l.MaxKg, 1)))
		if !told[l.Profile.ID] {
			told[l.Profile.ID] = true
			profiles = append(profiles, profileText(&l.Profile))
		}
	}
	return "  " + oven.ID + "\n" + closuresText(oven.Closures, c) + t.text("  ") + strings.Join(profiles, "")
}

// profileText is a cure step by step.
func profileText(p *shop.Profile) string {
	var steps []string
	for _, s := range p.Segments {
		step := fmt.Sprintf("%s °C/min to %s °C", decimal(s.RampCPerMin, 2), decimal(s.ToC, 1))
		if s.SoakMinutes > 0 {
			step += fmt.Sprintf(", soak %s min", decimal(s.SoakMinutes, 1))
		}
		steps = append(steps, step)
	}
	steps = append(steps, fmt.Sprintf("cool %s °C/min to %s °C", decimal(p.CoolCPerMin, 2), decimal(p.CoolToC, 1)),
		fmt.Sprintf("rest %d min before the pull", p.RestMinutes))
	return paragraph("      Profile "+p.ID+": ", strings.Join(steps, "; "))
}
