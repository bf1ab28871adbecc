package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
)

// A Curve is a cure to be drawn: the air's temperature under a profile, in
// minutes from the cure's start.
type Curve struct {
	ID       string
	Profile  shop.Profile
	AmbientC float64
	LagMin   float64 // what the load's weight adds; it is drawn before the cooling
	Units    unit.System
	Start    *shop.Instant // of the cure; nil: minutes instead of clock times
	Resins   []shop.Resin  // whose windows are shown
	Tapes    []shop.Tape
}

// The curve's view box, in pixels.
const (
	curveWide, curveHigh           = 560.0, 240.0
	curveLeft, curveRight          = 58.0, 22.0
	curveTop, curveBottom          = 22.0, 44.0
	curvePlotWide, curvePlotHigh   = curveWide - curveLeft - curveRight, curveHigh - curveTop - curveBottom
	hourTick                       = 60.0
	curveGap                       = 34.0 // between two times below the curve
	roomAbove, roundTo, leastSpanC = 12.0, 20.0, 60.0
)

// A knee is one corner of a curve.
type knee struct{ minute, c float64 }

// knees returns the corners from ambient to the end of the cooling.
func (v *Curve) knees() []knee {
	at := knee{0, v.AmbientC}
	out := []knee{at}
	for _, s := range v.Profile.Segments {
		at = knee{at.minute + math.Abs(s.ToC-at.c)/positive(s.RampCPerMin), s.ToC}
		out = append(out, at)
		at.minute += s.SoakMinutes
		out = append(out, at)
	}
	if v.LagMin > 0 {
		at.minute += v.LagMin
		out = append(out, at)
	}
	end := min(at.c, v.Profile.CoolToC)
	return append(out, knee{at.minute + (at.c-end)/positive(v.Profile.CoolCPerMin), end})
}

// positive keeps a profile that is still being written from dividing by zero.
func positive(rate float64) float64 {
	if rate <= 0 {
		return 1
	}
	return rate
}

// Draw draws the curve, with the windows of what it cures behind it.
func (v Curve) Draw() Picture {
	knees := v.knees()
	s := v.scales(knees)
	c := newCanvas(frame{
		id: v.ID, class: v.class(), title: "Cure " + v.Profile.ID, desc: v.desc(knees),
		width: curveWide + gaugeWide*float64(len(v.Resins)+len(v.Tapes)), height: curveHigh, scale: 1,
	})
	v.grid(c, s)
	v.windows(c, s)
	line := make([]string, len(knees))
	for i, k := range knees {
		line[i] = point(s.x(k.minute), s.y(k.c))
	}
	foot := number(s.y(s.low))
	c.path("heat", "M"+number(s.x(0))+" "+foot+"L"+strings.Join(line, "L")+"L"+number(s.x(s.minutes))+" "+foot+"Z")
	c.path("air", "M"+strings.Join(line, "L"))
	v.corners(c, s, knees)
	return c.done()
}

// curveScales maps minutes and degrees onto the view box.
type curveScales struct{ minutes, low, high float64 }

func (v *Curve) scales(knees []knee) curveScales {
	s := curveScales{minutes: max(1, knees[len(knees)-1].minute), low: v.AmbientC, high: v.AmbientC + leastSpanC}
	for _, k := range knees {
		s.low, s.high = min(s.low, k.c), max(s.high, k.c)
	}
	for _, r := range v.Resins {
		s.high = max(s.high, r.MaxC)
	}
	for _, t := range v.Tapes {
		s.high = max(s.high, t.ShrinkFromC)
	}
	s.low = math.Floor(s.low/roundTo) * roundTo
	s.high = math.Ceil((s.high+roomAbove)/roundTo) * roundTo
	return s
}

func (s curveScales) x(minute float64) float64 { return curveLeft + minute/s.minutes*curvePlotWide }

func (s curveScales) y(c float64) float64 {
	return curveTop + (s.high-c)/(s.high-s.low)*curvePlotHigh
}

func (v *Curve) grid(c *canvas, s curveScales) {
	step := roundTo
	for (s.high-s.low)/step > 7 {
		step += roundTo
	}
	var lines strings.Builder
	for t := s.low; t <= s.high; t += step {
		lines.WriteString("M" + point(curveLeft, s.y(t)) + "h" + number(curvePlotWide))
		c.text("axis", "end", curveLeft-6, s.y(t)+4, v.Units.Temperature(t))
	}
	every := hourTick
	for s.minutes/every > 8 {
		every *= 2
	}
	for m := every; m < s.minutes; m += every {
		lines.WriteString("M" + point(s.x(m), curveTop) + "v" + number(curvePlotHigh))
	}
	c.path("grid", lines.String())
	c.line("axis-line", curveLeft, s.y(s.low), curveWide-curveRight, s.y(s.low))
}

// corners marks where the curve bends, with times below it that have room.
func (v *Curve) corners(c *canvas, s curveScales, knees []knee) {
	last := math.Inf(-1)
	var dots, drops strings.Builder
	for i, k := range knees {
		x := s.x(k.minute)
		dots.WriteString("M" + point(x, s.y(k.c)) + "h0")
		end := i == len(knees)-1
		if !end && (x-last < curveGap || s.x(s.minutes)-x < curveGap) {
			continue
		}
		drops.WriteString("M" + point(x, s.y(k.c)) + "V" + number(s.y(s.low)+5))
		c.text("axis", anchorAt(i, len(knees)), x, s.y(s.low)+18, v.when(k.minute))
		last = x
	}
	c.path("drop", drops.String())
	c.path("knee", dots.String())
	for _, p := range v.plateaus(knees) {
		c.text("mark", p.anchor, s.x(p.minute), s.y(p.c)-8, p.text)
	}
	what := "minutes from the cure's start"
	if v.Start != nil {
		what = "local time; the air's temperature as the profile sets it"
	}
	c.text("note", "start", curveLeft, curveHigh-8, what)
}

func anchorAt(i, count int) string {
	if i == count-1 {
		return "end"
	}
	return "middle"
}

// A plateau is a soak, where its label stands.
type plateau struct {
	minute, c    float64
	anchor, text string
}

func (v *Curve) plateaus(knees []knee) []plateau {
	var out []plateau
	for i, s := range v.Profile.Segments {
		from, to := knees[1+2*i], knees[2+2*i]
		at, anchor := (from.minute+to.minute)/2, "middle"
		if i+1 < len(v.Profile.Segments) && v.Profile.Segments[i+1].ToC > s.ToC {
			at, anchor = to.minute, "end" // beside the next ramp, not across it
		}
		if s.SoakMinutes > 0 {
			out = append(out, plateau{
				at, s.ToC, anchor,
				v.Units.Temperature(s.ToC) + ", " + unit.Minutes(int64(math.Round(s.SoakMinutes))),
			})
		}
	}
	return out
}

// when writes an instant of the cure.
func (v *Curve) when(minute float64) string {
	if v.Start == nil {
		return unit.Number(minute, 0)
	}
	return v.Start.Time().Add(time.Duration(math.Round(minute)) * time.Minute).Format("15:04")
}

// A gauge is a column beside the curve, on its scale of temperatures: where a
// resin cures and what it bears, or from where a tape shrinks and what it bears.
type gauge struct {
	name, says     string
	low, high, max float64
	class          string
}

func (v *Curve) gauges() []gauge {
	var out []gauge
	for i, r := range v.Resins {
		low, high := SoakRange(r)
		says := fmt.Sprintf("resin %s soaks from %s and bears %s", r.ID, v.Units.Temperature(low), v.Units.Temperature(r.MaxC))
		out = append(out, gauge{r.ID, says, low, high, r.MaxC, "window window-" + strconv.Itoa(i%3)})
	}
	for _, t := range v.Tapes {
		says := fmt.Sprintf("tape %s shrinks from %s and bears %s", t.ID, v.Units.Temperature(t.ShrinkFromC), v.Units.Temperature(t.MaxC))
		out = append(out, gauge{t.ID, says, t.ShrinkFromC, t.MaxC, t.MaxC, "window window-tape"})
	}
	return out
}

// windows draws the gauges, and carries the hottest segment over to them.
func (v *Curve) windows(c *canvas, s curveScales) {
	peak := v.AmbientC
	for _, segment := range v.Profile.Segments {
		peak = max(peak, segment.ToC)
	}
	all := v.gauges()
	if len(all) > 0 { // below what is written
		c.line("peak", curveLeft, s.y(peak), curveWide+float64(len(all))*gaugeWide, s.y(peak))
	}
	for i, g := range all {
		x := curveWide + float64(i)*gaugeWide
		high := min(g.high, s.high)
		c.start("g")
		c.element("title", g.says)
		c.rect(g.class, x+14, s.y(high), gaugeWide-28, s.y(g.low)-s.y(high))
		if g.max < s.high {
			c.line("most", x+6, s.y(g.max), x+gaugeWide-6, s.y(g.max))
			c.text("axis", "middle", x+gaugeWide/2, s.y(g.max)-5, v.Units.Temperature(g.max))
		}
		c.text("axis", "middle", x+gaugeWide/2, s.y(g.low)+14, v.Units.Temperature(g.low))
		c.text("mark", "middle", x+gaugeWide/2, s.y(s.low)+18, g.name)
		c.end()
	}
}

// gaugeWide is the width of a column beside the curve.
const gaugeWide = 74.0

// SoakRange returns the coldest and hottest temperature of a resin's table.
func SoakRange(r shop.Resin) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range r.Soak {
		low, high = min(low, p.C), max(high, p.C)
	}
	if low > high {
		return r.MaxC, r.MaxC
	}
	return low, high
}

func (v *Curve) desc(knees []knee) string {
	parts := make([]string, len(knees))
	for i, k := range knees {
		parts[i] = fmt.Sprintf("%s: %s", v.when(k.minute), v.Units.Temperature(k.c))
	}
	what := "Minutes and temperatures: "
	if v.Start != nil {
		what = "Times and temperatures: "
	}
	text := what + strings.Join(parts, "; ") + "."
	for _, g := range v.gauges() {
		text += " " + g.says + "."
	}
	return text
}

// class keeps a curve with gauges beside it as wide as it is.
func (v *Curve) class() string {
	if len(v.Resins)+len(v.Tapes) > 0 {
		return "curve gauged"
	}
	return "curve"
}
