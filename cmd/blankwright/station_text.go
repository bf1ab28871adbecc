package main

import (
	"fmt"
	"strings"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// stationText is one station's queues; nothing where nobody works there.
func stationText(s *sheet.Station, c clock) string {
	if !s.Working() {
		return ""
	}
	out := heading(stationName(s.Stage)) + cautionsText(sheet.StationCautions(s.Stage))
	for _, p := range s.Positions {
		out += positionText(s.Stage, &p, c)
	}
	return out
}

// stationName is a station's heading; who wraps also hangs.
func stationName(stage shop.Stage) string {
	if stage == shop.Wrap {
		return "WRAP AND HANG"
	}
	return strings.ToUpper(stage.String())
}

func positionText(stage shop.Stage, p *sheet.Position, c clock) string {
	head := fmt.Sprintf("  Position %d: ", p.Number)
	if len(p.Tasks) == 0 {
		head += "no work\n"
	} else {
		head += fmt.Sprintf("%s, %d of %d open minutes\n", counted(len(p.Tasks), "task"), p.WorkedMinutes, p.OpenMinutes)
	}
	return head + closuresText(p.Closures, c) + tasksText(stage, p.Tasks, c)
}

func closuresText(closures []sheet.Closure, c clock) string {
	out := ""
	for _, down := range closures {
		out += paragraph("      ", "down "+c.span(down.From, down.To)+" "+down.Why)
	}
	return out
}

func tasksText(stage shop.Stage, tasks []sheet.Task, c clock) string {
	if len(tasks) == 0 {
		return ""
	}
	t := table{align: "lllrlll"}
	t.row("   ", "time", "section", "pcs", "load", needs(stage), "")
	for _, task := range tasks {
		t.row(box, c.span(task.Start, task.End), task.Section, grouped(task.Pieces), task.Load, need(stage, &task), setUpText(&task))
	}
	return t.text("  ")
}

// needs is the heading of what a stage's tasks need beside the pieces.
func needs(stage shop.Stage) string {
	return map[shop.Stage]string{shop.Cut: "prepreg", shop.Tack: "mandrel", shop.Wrap: "tape"}[stage]
}

func need(stage shop.Stage, t *sheet.Task) string {
	return map[shop.Stage]string{shop.Cut: t.Prepreg, shop.Tack: t.Mandrel, shop.Wrap: t.Tape}[stage]
}

func setUpText(t *sheet.Task) string {
	if t.SetUp == "" {
		return ""
	}
	return "← set up " + t.SetUp
}
