package draw

import (
	"fmt"
	"strings"

	"blankwright/api/web/unit"
)

// A Share is one row of a list of bars: how much of something.
type Share struct {
	Name  string
	Value float64
	Text  string // the value as it is to be read
}

// The charts' measures, in pixels.
const (
	barsWide  = 520.0
	barsName  = 170.0
	barsRow   = 26.0
	columnsIn = 300.0
)

// Bars draws values side by side, the longest filling the width.
func Bars(id, title string, rows []Share) Picture {
	most := 0.0
	for _, r := range rows {
		most = max(most, r.Value)
	}
	c := newCanvas(frame{
		id: id, class: "bars", title: title, desc: sharesDesc(rows),
		width: barsWide, height: barsRow*float64(max(1, len(rows))) + 4, scale: 1,
	})
	for i, r := range rows {
		y := float64(i) * barsRow
		wide := 0.0
		if most > 0 {
			wide = r.Value / most * (barsWide - barsName - 80)
		}
		c.text("row", "end", barsName-8, y+17, r.Name)
		c.rect("needed", barsName, y+5, max(1, wide), barsRow-10)
		c.text("axis", "start", barsName+max(1, wide)+6, y+17, r.Text)
	}
	return c.done()
}

// Columns draws shares from 0 to 1 over time as columns between two bars.
func Columns(id, title string, rows []Share) Picture {
	const high, top = 110.0, 20.0
	count := float64(max(1, len(rows)))
	column := min(52, max(26, (barsWide-40)/count))
	c := newCanvas(frame{
		id: id, class: "columns", title: title, desc: sharesDesc(rows),
		width: 44 + max(column*count, columnsIn), height: top + high + 26, scale: 1,
	})
	for _, share := range []float64{0, 0.5, 1} {
		y := top + high*(1-share)
		c.line("grid", 38, y, 44+max(column*count, columnsIn), y)
		c.text("axis", "end", 34, y+4, unit.Number(share*100, 0)+" %")
	}
	for i, r := range rows {
		x, up := 42+column*float64(i), min(1, max(0, r.Value))*high
		c.rect("needed", x+4, top+high-up, column-8, up)
		c.text("small", "middle", x+column/2, top+high-up-4, r.Text)
		c.text("axis", "middle", x+column/2, top+high+16, r.Name)
	}
	return c.done()
}

func sharesDesc(rows []Share) string {
	parts := make([]string, len(rows))
	for i, r := range rows {
		parts[i] = fmt.Sprintf("%s: %s", r.Name, r.Text)
	}
	return strings.Join(parts, "; ") + "."
}
