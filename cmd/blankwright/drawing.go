package main

import (
	"fmt"
	"math"
	"strings"

	"blankwright/scheduler/sheet"
)

// How large a rack is drawn, in characters.
const (
	drawnRows    = 12 // about, from top to floor
	drawnColumns = 66 // at most, between the posts
)

// A drawing is a rack to scale: the bars at their heights, each tube hanging
// from the peg that it takes, as long as its mandrel hangs. A line has one
// scale for heights and another for widths.
type drawing struct {
	rack    *sheet.Rack
	letters map[string]string
	perRow  float64 // mm
	perCol  float64 // mm
	columns int
}

func newDrawing(r *sheet.Rack, letters map[string]string) *drawing {
	d := &drawing{rack: r, letters: letters, perRow: stepFor(r.HeightMM / drawnRows)}
	width, pitch := 0.0, math.MaxFloat64
	for _, l := range r.Levels {
		width = max(width, float64(max(l.Pegs, l.Used))*l.PitchMM)
		if l.PitchMM > 0 {
			pitch = min(pitch, l.PitchMM)
		}
	}
	if width == 0 {
		pitch = 1 // a level that the set-up lacks has no measures
	}
	d.perCol = max(pitch, width/drawnColumns)
	d.columns = max(1, int(math.Ceil(width/d.perCol-1e-6)))
	return d
}

// stepFor returns the least round number of millimetres that is enough for a
// row.
func stepFor(mm float64) float64 {
	for _, step := range []float64{25, 50, 100, 150, 200, 250, 300, 400, 500} {
		if mm <= step {
			return step
		}
	}
	return math.Ceil(mm/1000) * 1000
}

func (d *drawing) text() string {
	var out strings.Builder
	fmt.Fprintf(&out, "     mm    1 row is %s mm, 1 column %s mm\n", decimal(d.perRow, 0), decimal(d.perCol, 1))
	for i := range d.rack.Levels {
		d.level(&out, i)
	}
	fmt.Fprintf(&out, "%7d ─╨%s╨─\n", 0, strings.Repeat("─", d.columns))
	return out.String()
}

// level draws a bar and what hangs from it down to the next bar or the floor.
func (d *drawing) level(out *strings.Builder, number int) {
	l := &d.rack.Levels[number]
	left, right := "╠", "╣"
	if number == 0 {
		left, right = "╔", "╗"
	}
	fmt.Fprintf(out, "%7.0f  %s%s%s  level %d\n", l.BarMM, left, d.bar(l), right, number+1)
	notes := []string{
		fmt.Sprintf("  %d of %s", l.Used, counted(l.Pegs, "peg")),
		fmt.Sprintf("  clear %s mm", decimal(l.ClearMM, 0)),
	}
	rows := max(len(notes), int(math.Round((l.BarMM-d.below(number))/d.perRow)))
	for row := range rows {
		note := ""
		if row < len(notes) {
			note = notes[row]
		}
		fmt.Fprintf(out, "         ║%s║%s\n", d.tubes(l, row, rows), note)
	}
}

// below returns the height of what is under a level: the next bar or the
// floor.
func (d *drawing) below(number int) float64 {
	if number+1 < len(d.rack.Levels) {
		return d.rack.Levels[number+1].BarMM
	}
	return 0
}

// column returns the column of a peg, which counts from 1.
func (d *drawing) column(l *sheet.Level, peg int) int {
	return min(d.columns-1, int((float64(peg)-0.5)*l.PitchMM/d.perCol))
}

// bar draws a bar from post to post, with the pegs that carry something.
func (d *drawing) bar(l *sheet.Level) string {
	line := []rune(strings.Repeat("═", d.columns))
	d.eachTube(l, func(column int, _ sheet.Hang) { line[column] = '╤' })
	return string(line)
}

// tubes draws one row below a bar: first the letters, then the tubes, down to
// the half row in which each ends.
func (d *drawing) tubes(l *sheet.Level, row, rows int) string {
	line := []rune(strings.Repeat(" ", d.columns))
	d.eachTube(l, func(column int, h sheet.Hang) {
		halves := min(2*rows, max(1, int(math.Round(2*h.HangMM/d.perRow))))
		switch {
		case row == 0:
			line[column] = []rune(d.letters[h.Section])[0]
		case halves >= 2*row+2:
			line[column] = '│'
		case halves == 2*row+1:
			line[column] = '╵'
		}
	})
	return string(line)
}

// eachTube visits a level's pieces with the columns at which they hang.
func (d *drawing) eachTube(l *sheet.Level, visit func(column int, h sheet.Hang)) {
	for _, h := range l.Hangs {
		for n := range h.Pieces {
			visit(d.column(l, h.FirstPeg+n*h.PegsEach), h)
		}
	}
}
