package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// box stands before whatever is ticked off on the paper.
const box = "[ ]"

// dayText is one day's sheet as text, 80 columns wide where ids are short.
func dayText(d *sheet.Day, breaches int) string {
	c := clock{d}
	var out strings.Builder
	out.WriteString(headText(d, c))
	if breaches > 0 {
		out.WriteString(paragraph("!! ", fmt.Sprintf("THIS PLAN BREAKS RULES (%s): `blankwright check` lists them.", breachCount(breaches))))
	}
	if d.Idle() {
		out.WriteString("\nNo task and no oven move on this day.\n")
	}
	out.WriteString(issueText(d, c))
	for _, s := range d.Stations {
		out.WriteString(stationText(&s, c))
	}
	out.WriteString(ovensText(d, c))
	out.WriteString(racksText(d, c))
	out.WriteString(footText(d))
	return out.String()
}

func headText(d *sheet.Day, c clock) string {
	rule := strings.Repeat("═", pageWidth) + "\n"
	date := d.From.Time().Format("Monday 2 January 2006")
	name := strings.ToUpper(d.Shop)
	space := max(2, pageWidth-2-utf8.RuneCountInString(name+date))
	head := " " + name + strings.Repeat(" ", space) + date + "\n"
	head += fmt.Sprintf(" From the plan of %s. Local times, %s.\n", day(d.PlannedAt), d.Timezone)
	if d.Hours() != 24 {
		head += fmt.Sprintf(" The clocks change: this day has %s hours; a time that comes twice shows its\n offset the second time\n", decimal(d.Hours(), 2))
	}
	return rule + head + rule
}

// heading is a title with a line to the page's edge.
func heading(title string) string {
	return "\n── " + title + " " + strings.Repeat("─", max(0, pageWidth-4-utf8.RuneCountInString(title))) + "\n"
}

func cautionsText(cautions []sheet.Caution) string {
	var out strings.Builder
	for _, c := range cautions {
		out.WriteString(paragraph("  ! ", c.Text))
	}
	return out.String()
}

// issueText is what to fetch: prepreg from the freezer, mandrels from the crib.
func issueText(d *sheet.Day, c clock) string {
	return prepregText(d, c) + mandrelText(d, c)
}

func prepregText(d *sheet.Day, c clock) string {
	if len(d.Prepregs) == 0 {
		return ""
	}
	t := table{align: "llrll"}
	t.row("   ", "prepreg", "m²", "first cut", "from")
	for _, n := range d.Prepregs {
		for i, from := range drawsText(n.Draws, c) {
			if i > 0 {
				t.row("", "", "", "", from)
				continue
			}
			t.row(box, n.Prepreg, squareMetres(n.M2), c.at(n.FirstCut), from)
		}
	}
	return heading("PREPREG TO THAW") +
		paragraph("  ", "In the sealed bag, 6 to 48 hours by roll size; open when the bag no longer sweats. Each draw goes on the roll's out-card.") +
		t.text("  ")
}

// drawsText tells of each supply that is drawn on; there is at least one line.
func drawsText(draws []sheet.Draw, c clock) []string {
	lines := []string{}
	for _, d := range draws {
		lines = append(lines, fmt.Sprintf("%s  %s m², expires %s", d.Supply, squareMetres(d.M2), d.Expires.Time().Format("2 Jan 2006 15:04")))
	}
	if len(lines) == 0 {
		return []string{"any roll within its out-time"}
	}
	return lines
}

// squareMetres rounds up: what is fetched must do.
func squareMetres(m2 float64) string { return fmt.Sprintf("%.2f", math.Ceil(m2*100-1e-6)/100) }

func mandrelText(d *sheet.Day, c clock) string {
	if len(d.Mandrels) == 0 {
		return ""
	}
	t := table{align: "llrlrlr"}
	t.row("   ", "mandrel", "issue", "first", "back", "last", "most out")
	for _, m := range d.Mandrels {
		t.row(box, m.Type, count(m.Issue), c.optional(m.FirstIssue), count(m.Back), c.optional(m.LastBack),
			fmt.Sprintf("%d of %d", m.MostOut, m.Ready))
	}
	return heading("MANDRELS AT THE CRIB") + t.text("  ")
}

func (c clock) optional(i *shop.Instant) string {
	if i == nil {
		return ""
	}
	return c.at(*i)
}

// count leaves out a nought.
func count(n int) string {
	if n == 0 {
		return "–"
	}
	return grouped(n)
}

// footText is what has the last word, and what the cautions rest on.
func footText(d *sheet.Day) string {
	var authorities []string
	for _, caution := range d.Cautions() {
		if a := caution.About + " (" + caution.Authority + ")"; !slices.Contains(authorities, a) {
			authorities = append(authorities, a)
		}
	}
	foot := "\n" + strings.Repeat("─", pageWidth) + "\n" + paragraph("  ", sheet.Rule)
	if len(authorities) > 0 {
		foot += paragraph("  ", "The cautions follow: "+strings.Join(authorities, ", ")+".")
	}
	return foot
}
