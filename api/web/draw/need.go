package draw

import (
	"fmt"
	"strings"

	"blankwright/scheduler/shop"
)

// A NeedDay is one day's need of one mandrel type against what is ready.
type NeedDay struct {
	Date  shop.Date
	Need  int // the most that are out at once
	Ready int
}

// Short returns how many are missing.
func (n NeedDay) Short() int { return max(0, n.Need-n.Ready) }

// The need's measures, in pixels.
const (
	needColumn = 34.0
	needHigh   = 120.0
	needLeft   = 34.0
	needTop    = 18.0
)

// Need draws the days ahead of one mandrel type: pegs that are needed as filled
// columns, what is ready as a bar across. Where the need is above the bar, what
// is missing is hatched and written out.
func Need(id, mandrel string, days []NeedDay) Picture {
	most := 1
	for _, d := range days {
		most = max(most, d.Need, d.Ready)
	}
	scale := needHigh / float64(most)
	c := newCanvas(frame{
		id: id, class: "need", title: "Mandrels " + mandrel + ", need against ready", desc: needDesc(days),
		width: needLeft + needColumn*float64(max(1, len(days))) + 8, height: needTop + needHigh + 40, scale: 1,
	})
	foot := needTop + needHigh
	for _, tick := range ticks(most) {
		y := foot - float64(tick)*scale
		c.line("grid", needLeft, y, needLeft+needColumn*float64(len(days)), y)
		c.text("axis", "end", needLeft-6, y+4, fmt.Sprint(tick))
	}
	for i, d := range days {
		x := needLeft + needColumn*float64(i)
		has := float64(min(d.Need, d.Ready)) * scale
		c.rect("needed", x+7, foot-has, needColumn-14, has)
		if d.Short() > 0 {
			lack := float64(d.Short()) * scale
			c.rect("short", x+7, foot-has-lack, needColumn-14, lack)
			c.text("small", "middle", x+needColumn/2, foot-has-lack-4, fmt.Sprintf("−%d", d.Short()))
		}
		c.rect("ready", x, foot-float64(d.Ready)*scale-2, needColumn, 4)
		c.text("axis", "middle", x+needColumn/2, foot+15, d.Date.Weekday().String()[:2])
		c.text("axis", "middle", x+needColumn/2, foot+30, d.Date.String()[8:])
	}
	return c.done()
}

func needDesc(days []NeedDay) string {
	parts := make([]string, len(days))
	for i, d := range days {
		parts[i] = fmt.Sprintf("%s: %d needed, %d ready", d.Date, d.Need, d.Ready)
	}
	return strings.Join(parts, "; ") + "."
}

// ticks returns at most five round counts from 0 up.
func ticks(most int) []int {
	step := 1
	for _, s := range []int{1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000} {
		if step = s; most/s <= 4 {
			break
		}
	}
	var out []int
	for t := 0; t <= most; t += step {
		out = append(out, t)
	}
	return out
}
