package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"blankwright/api/web/unit"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// The ribbon's measures, in pixels.
const (
	ribbonWide  = 960.0
	ribbonLeft  = 64.0
	ribbonRow   = 38.0
	ribbonTop   = 26.0
	ribbonCut   = 5.0 // how far a ribbon's ends slant, as tape is cut
	roomForText = 46.0
)

// A Stretch is the part of a day that ribbons show, in minutes, so that those
// of one day stand under each other.
type Stretch struct{ From, To int64 }

// StretchOf returns the hours from the first to the last thing that begins or
// ends on a day, in whole hours: a cure that runs through the night does not
// make it longer.
func StretchOf(d *sheet.Day) Stretch {
	s := Stretch{math.MaxInt64, math.MinInt64}
	add := func(instants ...shop.Instant) {
		for _, i := range instants {
			if d.From.Minute <= i.Minute && i.Minute <= d.To.Minute {
				s.From, s.To = min(s.From, i.Minute), max(s.To, i.Minute)
			}
		}
	}
	for i := range d.Stations {
		for _, p := range d.Stations[i].Positions {
			for _, t := range p.Tasks {
				add(t.Start, t.End)
			}
		}
	}
	for _, l := range d.Loads {
		if l.InOven {
			add(l.In, l.Out)
		}
	}
	if s.From >= s.To {
		return Stretch{d.From.Minute, d.To.Minute}
	}
	s.From -= (s.From - d.From.Minute) % 60
	s.To += (60 - (s.To-d.From.Minute)%60) % 60
	return s
}

// A ribbon is a day's work as lengths of tape along the hours.
type ribbon struct {
	*canvas
	d       *sheet.Day
	s       Stretch
	windows map[string]int // by load: its winding
}

// Station draws a station's day, a row to each position.
func Station(id string, d *sheet.Day, s Stretch, station *sheet.Station) Picture {
	rows := len(station.Positions)
	r := newRibbon(id, d, s, rows, fmt.Sprintf("%s on %s", station.Stage, d.Date), stationDesc(station))
	for i, p := range station.Positions {
		y := ribbonTop + float64(i)*ribbonRow
		r.row(y, fmt.Sprintf("%s %d", station.Stage, p.Number))
		for _, closed := range p.Closures {
			r.closure(y, closed)
		}
		r.tasks(y, p.Tasks)
	}
	return r.done()
}

// Ovens draws the day of all ovens, a row to each.
func Ovens(id string, d *sheet.Day, s Stretch) Picture {
	r := newRibbon(id, d, s, len(d.Ovens), fmt.Sprintf("Ovens on %s", d.Date), ovensDesc(d))
	for i, o := range d.Ovens {
		y := ribbonTop + float64(i)*ribbonRow
		r.row(y, o.ID)
		for _, closed := range o.Closures {
			r.closure(y, closed)
		}
		for _, l := range d.Loads {
			if l.InOven && l.Oven == o.ID {
				r.cure(y, l)
			}
		}
	}
	return r.done()
}

func newRibbon(id string, d *sheet.Day, s Stretch, rows int, title, desc string) *ribbon {
	r := &ribbon{d: d, s: s, windows: windingsOf(d)}
	r.canvas = newCanvas(frame{
		id: id, class: "ribbon", title: title, desc: desc,
		width: ribbonWide, height: ribbonTop + float64(rows)*ribbonRow + 8, scale: 1,
	})
	r.hours(rows)
	return r
}

// windingsOf gives each load of the day a winding, by its order.
func windingsOf(d *sheet.Day) map[string]int {
	out := map[string]int{}
	add := func(load string) {
		if _, ok := out[load]; !ok {
			out[load] = len(out) % Windings
		}
	}
	for _, l := range d.Loads {
		add(l.ID)
	}
	for i := range d.Stations {
		for _, p := range d.Stations[i].Positions {
			for _, t := range p.Tasks {
				add(t.Load)
			}
		}
	}
	return out
}

func (r *ribbon) x(minute int64) float64 {
	minute = min(max(minute, r.s.From), r.s.To)
	share := float64(minute-r.s.From) / float64(max(1, r.s.To-r.s.From))
	return ribbonLeft + share*(ribbonWide-ribbonLeft-8)
}

func (r *ribbon) hours(rows int) {
	zone := (&shop.Shop{Timezone: r.d.Timezone}).Zone()
	step := int64(60)
	for (r.s.To-r.s.From)/step > 18 {
		step *= 2
	}
	var grid strings.Builder
	for m := r.s.From; m <= r.s.To; m += step {
		grid.WriteString("M" + point(r.x(m), ribbonTop-4) + "v" + number(4+float64(rows)*ribbonRow))
	}
	r.path("grid", grid.String())
	for m := r.s.From; m <= r.s.To; m += step {
		anchor := "middle"
		if m+step > r.s.To {
			anchor = "end"
		}
		r.text("axis", anchor, r.x(m), ribbonTop-10, shop.InstantIn(m, zone).Time().Format("15:04"))
	}
}

func (r *ribbon) row(y float64, name string) {
	r.rect("bench", ribbonLeft, y+3, ribbonWide-ribbonLeft-8, ribbonRow-6)
	r.text("row", "start", 0, y+ribbonRow/2+4, name)
}

func (r *ribbon) closure(y float64, closed sheet.Closure) {
	x, width := r.x(closed.From.Minute), r.x(closed.To.Minute)-r.x(closed.From.Minute)
	r.start("g")
	r.element("title", "closed: "+closed.Why)
	r.rect("closed", x, y+3, width, ribbonRow-6)
	if width > roomForText {
		r.text("axis", "middle", x+width/2, y+ribbonRow/2+4, "closed")
	}
	r.end()
}

// tasks draws a position's tasks, those of one load together, and each set-up as
// a dark knot where it begins. A day has hundreds of tasks: a page could not
// carry an element with words for each.
func (r *ribbon) tasks(y float64, tasks []sheet.Task) {
	var knots strings.Builder
	for _, t := range tasks {
		if t.SetUp != "" {
			knots.WriteString("M" + point(r.x(t.Start.Minute), y+ribbonRow/2) + "l6-6v12z")
		}
	}
	for _, load := range loadsOf(tasks) {
		var own []sheet.Task
		pieces := 0
		for _, t := range tasks {
			if t.Load == load {
				own, pieces = append(own, t), pieces+t.Pieces
			}
		}
		r.told("tape", r.lengths(y, own), fill(onRibbon, r.windows[load]),
			fmt.Sprintf("load %s: %s, %s", load, Counted(len(own), "task"), Counted(pieces, "piece")))
		widest := slices.MaxFunc(own, func(a, b sheet.Task) int { return cmp.Compare(r.wide(a), r.wide(b)) })
		r.label(r.x(widest.Start.Minute), r.x(widest.End.Minute), y, load)
	}
	r.path("knot", knots.String())
}

func (r *ribbon) wide(t sheet.Task) float64 { return r.x(t.End.Minute) - r.x(t.Start.Minute) }

// lengths draws tasks as tape. Where one begins as another ends, they are one
// length, cut across where there is room to see it.
func (r *ribbon) lengths(y float64, tasks []sheet.Task) string {
	var d strings.Builder
	top, high := y+7, ribbonRow-14
	for len(tasks) > 0 {
		n := together(tasks)
		from, to := r.x(tasks[0].Start.Minute), r.x(tasks[n-1].End.Minute)
		d.WriteString(tape(from, to, top, high))
		cut := from
		for _, t := range tasks[1:n] {
			if x := r.x(t.Start.Minute); min(x-cut, to-x) > ribbonCut/2 {
				d.WriteString("M" + point(x+ribbonCut/2, top) + "l" + point(-ribbonCut, high))
				cut = x
			}
		}
		tasks = tasks[n:]
	}
	return d.String()
}

// together returns how many of the first tasks follow each other without a pause.
func together(tasks []sheet.Task) int {
	n := 1
	for n < len(tasks) && tasks[n].Start.Minute == tasks[n-1].End.Minute {
		n++
	}
	return n
}

// loadsOf names the loads of tasks, each once, in order.
func loadsOf(tasks []sheet.Task) []string {
	var out []string
	for _, t := range tasks {
		if !slices.Contains(out, t.Load) {
			out = append(out, t.Load)
		}
	}
	return out
}

// label writes what a ribbon carries, where it is long enough for that.
func (r *ribbon) label(from, to, y float64, text string) {
	if width := 9 + 7.2*float64(len([]rune(text))); to-from > width+8 {
		r.rect("tag", (from+to-width)/2, y+ribbonRow/2-8, width, 16, "rx", "3")
		r.text("small", "middle", (from+to)/2, y+ribbonRow/2+4, text)
	}
}

// cure draws a load in its oven: loading and unloading as thin, the cure as
// thick.
func (r *ribbon) cure(y float64, l sheet.Load) {
	r.rect("loading", r.x(l.In.Minute), y+ribbonRow/2-4, r.x(l.Out.Minute)-r.x(l.In.Minute), 8)
	from, to := r.x(l.CureStart.Minute), r.x(l.CureEnd.Minute)
	r.told("tape", tape(from, to, y+6, ribbonRow-12), fill(onRibbon, r.windows[l.ID]),
		fmt.Sprintf("load %s: in %s, cure %s to %s, out %s, profile %s",
			l.ID, clockOf(l.In), clockOf(l.CureStart), clockOf(l.CureEnd), clockOf(l.Out), l.Profile.ID))
	r.label(from, to, y, l.ID)
}

// tape is a length of tape with both ends cut at a slant.
func tape(from, to, y, high float64) string {
	slant := min(ribbonCut, (to-from)/2)
	return "M" + point(from+slant, y) + "H" + number(to) + "l" + point(-slant, high) + "H" + number(from) + "z"
}

func clockOf(i shop.Instant) string { return i.Time().Format("15:04") }

func stationDesc(s *sheet.Station) string {
	out := ""
	for _, p := range s.Positions {
		out += fmt.Sprintf("Position %d: %s, %s of %s. ", p.Number, Counted(len(p.Tasks), "task"),
			unit.Minutes(p.WorkedMinutes), unit.Minutes(p.OpenMinutes))
	}
	return out
}

func ovensDesc(d *sheet.Day) string {
	out := ""
	for _, l := range d.Loads {
		if l.InOven {
			out += fmt.Sprintf("%s: load %s from %s to %s. ", l.Oven, l.ID, clockOf(l.In), clockOf(l.Out))
		}
	}
	return out
}
