package web

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"blankwright/api/web/draw"
	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
)

// thingWords say what a thing of the catalog is, by kind, so that a list of ids can
// be told apart.
var thingWords = map[string]func(body []byte, f *Frame) string{
	"calendar":     told(calendarWords),
	"crew":         told(crewWords),
	"station":      told(stationWords),
	"oven":         told(ovenWords),
	"rack":         told(rackWords),
	"profile":      told(profileWords),
	"resin":        told(resinWords),
	"tape":         told(tapeWords),
	"prepreg":      told(prepregWords),
	"mandrel_type": told(mandrelWords),
	"product":      told(productWords),
	"downtime":     told(downtimeWords),
}

// told reads a thing before words are made of it. What cannot be read has none: its
// own page says why.
func told[T any](words func(T, *Frame) string) func([]byte, *Frame) string {
	return func(body []byte, f *Frame) string {
		var thing T
		if err := json.Unmarshal(body, &thing); err != nil {
			return ""
		}
		return words(thing, f)
	}
}

func calendarWords(c shop.Calendar, _ *Frame) string {
	w := c.Weekly
	names := []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}
	days := [][]shop.Window{w.Mon, w.Tue, w.Wed, w.Thu, w.Fri, w.Sat, w.Sun}
	var open []string
	for from := 0; from < len(days); {
		to := from + 1
		for to < len(days) && slices.Equal(days[to], days[from]) {
			to++
		}
		if last := len(days[from]) - 1; last >= 0 {
			name := names[from]
			if to-from > 1 {
				name += "–" + names[to-1]
			}
			open = append(open, fmt.Sprintf("%s %s–%s", name, days[from][0][0], days[from][last][1]))
		}
		from = to
	}
	if len(c.Exceptions) > 0 {
		open = append(open, draw.Counted(len(c.Exceptions), "exception"))
	}
	return strings.Join(open, ", ")
}

func crewWords(c shop.Crew, _ *Frame) string {
	var shifts []string
	for _, s := range c.Shifts {
		shifts = append(shifts, fmt.Sprintf("%d by %s", s.People, s.Calendar))
	}
	return strings.Join(shifts, ", ")
}

func stationWords(s shop.Station, _ *Frame) string {
	words := draw.Counted(s.Positions, "position") + ", open by " + s.Calendar
	if s.Crew != "" {
		words += ", worked by " + s.Crew
	}
	return words
}

func ovenWords(o shop.Oven, f *Frame) string {
	words := fmt.Sprintf("%s, %s high, %s at most", draw.Counted(o.Bays, "bay"), f.Units().Length(o.HeightMM), f.Units().Weight(o.MaxKg))
	if len(o.Profiles) > 0 {
		words += "; " + strings.Join(o.Profiles, ", ")
	}
	return words
}

func rackWords(r shop.Rack, _ *Frame) string {
	var setups []string
	for _, s := range r.Setups {
		pegs := 0
		for _, level := range s.Levels {
			pegs += level.Pegs
		}
		setups = append(setups, fmt.Sprintf("%s: %d pegs", s.ID, pegs))
	}
	return fmt.Sprintf("%d of them; %s", r.Count, strings.Join(setups, ", "))
}

func profileWords(p shop.Profile, f *Frame) string {
	var segments []string
	for _, s := range p.Segments {
		segments = append(segments, fmt.Sprintf("%s for %s", f.Units().Temperature(s.ToC), unit.Minutes(int64(math.Round(s.SoakMinutes)))))
	}
	return strings.Join(segments, ", then ")
}

func resinWords(r shop.Resin, f *Frame) string {
	low, high := draw.SoakRange(r)
	return fmt.Sprintf("soaks from %s to %s, bears %s", f.Units().Temperature(low), f.Units().Temperature(high), f.Units().Temperature(r.MaxC))
}

func tapeWords(t shop.Tape, f *Frame) string {
	return fmt.Sprintf("shrinks from %s, bears %s", f.Units().Temperature(t.ShrinkFromC), f.Units().Temperature(t.MaxC))
}

func prepregWords(p shop.Prepreg, _ *Frame) string {
	return fmt.Sprintf("resin %s, may lie cut for %s", p.Resin, unit.Minutes(int64(p.MaxOpenMinutes)))
}

func mandrelWords(m shop.MandrelType, f *Frame) string {
	return fmt.Sprintf("hangs %s, weighs %s", f.Units().Length(m.HangMM), f.Units().Weight(m.Kg))
}

func productWords(p shop.Product, _ *Frame) string {
	return p.Name + "; " + draw.Counted(len(p.Sections), "section")
}

func downtimeWords(d shop.Downtime, f *Frame) string {
	words := fmt.Sprintf("%s, %s to %s", d.Resource, f.Stamp(d.From.Time()), f.Stamp(d.To.Time()))
	if d.Why != "" {
		words += ": " + d.Why
	}
	return words
}
