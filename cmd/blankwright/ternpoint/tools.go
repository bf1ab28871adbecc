package ternpoint

import (
	"fmt"
	"math"

	"blankwright/scheduler/shop"
)

// A tool is a mandrel type: a ground steel taper.
type tool struct {
	id        string
	length    float64 // mm that are rolled on
	tip, butt float64 // mm across
	copies    int
	clean     int // minutes from pull until it can be tacked again
}

// tools are the tips (ST) and butts (SB) of surf blanks, boat blanks (BO), and
// four tapers of fly blanks (FA to FD), each from tip 1 to butt 4. The longest
// boat mandrel is an odd one, of which there are few.
var tools = []tool{
	{"ST-168", 1680, 2.4, 9.5, 11, 45},
	{"SB-168", 1680, 9.0, 17.5, 11, 45},
	{"ST-183", 1830, 2.4, 10.0, 13, 45},
	{"SB-183", 1830, 9.5, 19.0, 13, 45},
	{"ST-198", 1980, 2.5, 10.5, 8, 60},
	{"SB-198", 1980, 10.0, 20.5, 8, 60},
	{"BO-152", 1520, 3.2, 12.5, 14, 45},
	{"BO-168", 1680, 3.4, 13.5, 13, 45},
	{"BO-183", 1830, 3.6, 14.5, 12, 45},
	{"BO-198", 1980, 4.0, 16.0, 12, 60},
	{"BO-213", 2130, 4.2, 17.5, 3, 60},
	{"FA-1", 660, 0.9, 2.4, 12, 30},
	{"FA-2", 660, 2.2, 3.9, 12, 30},
	{"FA-3", 660, 3.7, 5.5, 12, 30},
	{"FA-4", 660, 5.3, 7.2, 12, 30},
	{"FB-1", 700, 1.0, 2.7, 15, 30},
	{"FB-2", 700, 2.5, 4.4, 15, 30},
	{"FB-3", 700, 4.2, 6.3, 15, 30},
	{"FB-4", 700, 6.1, 8.3, 15, 30},
	{"FC-1", 780, 1.1, 3.0, 11, 30},
	{"FC-2", 780, 2.8, 4.9, 11, 30},
	{"FC-3", 780, 4.7, 7.0, 11, 30},
	{"FC-4", 780, 6.8, 9.4, 11, 30},
	{"FD-1", 980, 1.2, 3.6, 7, 45},
	{"FD-2", 980, 3.4, 6.1, 7, 45},
	{"FD-3", 980, 5.9, 8.9, 7, 45},
	{"FD-4", 980, 8.7, 12.0, 7, 45},
}

func toolOf(id string) tool {
	for _, t := range tools {
		if t.id == id {
			return t
		}
	}
	panic("ternpoint: no mandrel type " + id)
}

// hanger is what a mandrel is longer than its tube, tip and hook together.
const hanger = 60

// steel is the density of a mandrel, in kilograms of a cubic millimetre.
const steel = 7.85e-6

func mandrelTypes() []shop.MandrelType {
	var out []shop.MandrelType
	for _, t := range tools {
		big, small := t.butt/2, t.tip/2
		volume := math.Pi * t.length * (big*big + big*small + small*small) / 3
		out = append(out, shop.MandrelType{
			ID: t.id, HangMM: t.length + hanger, Kg: places(volume*steel, 2), TurnaroundMinutes: t.clean,
		})
	}
	return out
}

// states tells of the tools that are not in the crib, by id.
var states = map[string]string{
	"ST-183/04": "inspection",
	"BO-213/02": "quarantine",
	"FB-1/07":   "to recoat",
	"FB-3/11":   "out for regrind",
	"BO-152/09": "scrapped",
}

// mandrels lists every tool. Two come back from recoating, on a working day
// soon.
func (y yard) mandrels() []shop.Mandrel {
	back := map[string]shop.Instant{
		"FA-1/03": y.at(y.workday(1), 9*60),
		"FA-1/04": y.at(y.workday(2), 9*60),
	}
	var out []shop.Mandrel
	for _, t := range tools {
		for i := range t.copies {
			m := shop.Mandrel{ID: fmt.Sprintf("%s/%02d", t.id, i+1), Type: t.id, State: shop.Ready}
			if state, elsewhere := states[m.ID]; elsewhere {
				m.State = state
			}
			if at, later := back[m.ID]; later {
				m.ReadyAt = &at
			}
			out = append(out, m)
		}
	}
	return out
}

// places rounds to so many decimal places.
func places(x float64, n int) float64 {
	scale := math.Pow10(n)
	return math.Round(x*scale) / scale
}
