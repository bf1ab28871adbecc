package ternpoint

import (
	"fmt"
	"math"
	"strings"

	"blankwright/scheduler/shop"
)

// A ply is one flag: how often it goes round, over which part of the tube's
// length from the butt.
type ply struct {
	prepreg string
	wraps   float64
	part    float64
}

// The ways a tube is laid up, inner flag first.
var (
	surfSoft  = []ply{{scrim, 1, 1}, {standard, 4, 1}, {standard, 2, 0.4}}
	surfStiff = []ply{{scrim, 1, 1}, {standard, 5, 1}, {middle, 2, 0.6}, {standard, 2, 0.35}}
	boatLight = []ply{{scrim, 1, 1}, {standard, 6, 1}, {standard, 3, 0.4}}
	boatHeavy = []ply{{thickMesh, 1, 1}, {thick, 9, 1}, {thick, 4, 0.45}}
	flySoft   = []ply{{scrim, 1, 1}, {middle, 4, 1}}
	flyStiff  = []ply{{scrim, 1, 1}, {high, 5, 1}}
)

// A model is a product: the mandrels it is rolled on, tip first, and how.
type model struct {
	id, name string
	mandrels string
	layup    []ply
	tape     string
	yield    float64 // of the tip, which fails most often
	finish   int     // working days
	stock    int
}

var models = []model{
	{"SUN-11L", "Sunker 11 ft light surf", "ST-168 SB-168", surfSoft, filmHigh, 0.94, 4, 2},
	{"SUN-11M", "Sunker 11 ft medium surf", "ST-168 SB-168", surfSoft, filmHigh, 0.94, 4, 0},
	{"BAL-12M", "Ballicatter 12 ft medium surf", "ST-183 SB-183", surfSoft, filmHigh, 0.95, 4, 3},
	{"BAL-12H", "Ballicatter 12 ft heavy surf", "ST-183 SB-183", surfStiff, filmHigh, 0.95, 4, 0},
	{"BAL-12X", "Ballicatter 12 ft extra heavy surf", "ST-183 SB-183", surfStiff, filmHigh, 0.93, 4, 0},
	{"HAG-13M", "Hagdown 13 ft medium surf", "ST-198 SB-198", surfSoft, filmHigh, 0.93, 5, 0},
	{"HAG-13H", "Hagdown 13 ft heavy surf", "ST-198 SB-198", surfStiff, filmHigh, 0.93, 5, 1},
	{"HAG-13X", "Hagdown 13 ft extra heavy surf", "ST-198 SB-198", surfStiff, filmHigh, 0.92, 5, 0},

	{"TUR-50L", "Turr 5 ft light boat", "BO-152", boatLight, filmHigh, 0.97, 3, 4},
	{"TUR-50M", "Turr 5 ft medium boat", "BO-152", boatLight, filmHigh, 0.97, 3, 0},
	{"TUR-55M", "Turr 5 ft 6 medium boat", "BO-168", boatLight, filmHigh, 0.97, 3, 0},
	{"TUR-60M", "Turr 6 ft medium boat", "BO-183", boatLight, filmHigh, 0.96, 3, 2},
	{"BAW-60H", "Bawk 6 ft heavy boat", "BO-183", boatHeavy, filmLow, 0.96, 3, 0},
	{"BAW-65H", "Bawk 6 ft 6 heavy boat", "BO-198", boatHeavy, filmLow, 0.95, 3, 0},
	{"BAW-70X", "Bawk 7 ft extra heavy boat", "BO-213", boatHeavy, filmLow, 0.94, 3, 0},

	{"MAU-863", "Mauzy 8 ft 6 three weight fly", "FA-1 FA-2 FA-3 FA-4", flySoft, filmLow, 0.90, 6, 1},
	{"MAU-864", "Mauzy 8 ft 6 four weight fly", "FA-1 FA-2 FA-3 FA-4", flySoft, filmLow, 0.90, 6, 2},
	{"MAU-865", "Mauzy 8 ft 6 five weight fly", "FA-1 FA-2 FA-3 FA-4", flySoft, filmLow, 0.91, 6, 0},
	{"STE-905", "Stearin 9 ft five weight fly", "FB-1 FB-2 FB-3 FB-4", flyStiff, filmHigh, 0.89, 6, 3},
	{"STE-906", "Stearin 9 ft six weight fly", "FB-1 FB-2 FB-3 FB-4", flyStiff, filmHigh, 0.90, 6, 0},
	{"STE-907", "Stearin 9 ft seven weight fly", "FB-1 FB-2 FB-3 FB-4", flyStiff, filmHigh, 0.90, 6, 0},
	{"STE-908", "Stearin 9 ft eight weight fly", "FB-1 FB-2 FB-3 FB-4", flyStiff, filmHigh, 0.91, 6, 1},
	{"DWY-107", "Dwy 10 ft seven weight fly", "FC-1 FC-2 FC-3 FC-4", flyStiff, filmHigh, 0.90, 6, 0},
	{"DWY-108", "Dwy 10 ft eight weight fly", "FC-1 FC-2 FC-3 FC-4", flySoft, filmHigh, 0.91, 6, 0},
	{"TIC-128", "Tickleace 12 ft 6 two-handed fly", "FD-1 FD-2 FD-3 FD-4", flySoft, filmHigh, 0.90, 7, 0},
}

func products() []shop.Product {
	var out []shop.Product
	for _, m := range models {
		p := shop.Product{ID: m.id, Name: m.name, FinishDays: m.finish, Stock: m.stock}
		for i, mandrel := range strings.Fields(m.mandrels) {
			s := section(toolOf(mandrel), m.layup)
			s.ID, s.Tape, s.Yield = fmt.Sprintf("%s.%d", m.id, i+1), m.tape, m.yield
			if i > 0 {
				s.Yield = 0.97
			}
			s.Profiles = slow[m.id]
			p.Sections = append(p.Sections, s)
		}
		out = append(out, p)
	}
	return out
}

// slow names the profile of models that the quick one would leave too soft.
var slow = map[string][]string{"TIC-128": {shared}, "BAL-12X": {shared}}

// section returns a tube rolled on a mandrel: its flags, each wound over the
// ones before it, what it weighs, how thick it comes out, and the minutes it
// takes, which grow with its length.
func section(t tool, layup []ply) shop.Section {
	built, kg := 0.0, 0.0 // mm on the diameter, so far
	s := shop.Section{Mandrel: t.id}
	for _, ply := range layup {
		sheet := sheetOf(ply.prepreg)
		upper := t.butt - (t.butt-t.tip)*ply.part
		flag := shop.Flag{
			Prepreg: ply.prepreg, LengthMM: places(t.length*ply.part, 0),
			ButtMM: width(ply.wraps, t.butt+built, sheet.ply), TipMM: width(ply.wraps, upper+built, sheet.ply),
		}
		flag.CutMinutes = places(0.25+0.25*flag.LengthMM/1000, 2)
		s.Flags = append(s.Flags, flag)
		kg += flag.M2() * sheet.areal
		built += 2 * ply.wraps * sheet.ply
	}
	m := t.length / 1000
	s.ODMM, s.Kg = places(t.butt+built, 1), places(kg, 3)
	s.Minutes = shop.Minutes{
		Tack: places(0.8+0.3*float64(len(layup))+0.2*m, 1), Roll: places(0.4+0.3*m, 1), Wrap: places(0.8+0.6*m, 1),
		Pull: places(0.4+0.2*m, 1), Strip: places(0.4+0.3*m, 1), Trim: places(0.5+0.1*m, 1),
	}
	return s
}

// width returns how wide a flag is that goes round a diameter so often: each
// turn winds over the one before it, so the mean is half the build-up wider.
func width(wraps, diameter, ply float64) float64 {
	return places(math.Pi*wraps*(diameter+wraps*ply), 1)
}
