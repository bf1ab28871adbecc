package ternpoint

import "blankwright/scheduler/shop"

// Prepregs, tapes and profiles, by the names that the file gives them.
const (
	standard  = "standard 125"
	middle    = "middle 110"
	high      = "high 90"
	scrim     = "scrim 45"
	thick     = "standard 125 cool"
	thickMesh = "scrim 45 cool"

	filmLow  = "film 18"
	filmHigh = "film 25"

	shared = "shared 124"
	quick  = "quick 132"
	cool   = "cool 94"
)

// resins has a common one, a tougher one that shares only the slower profile
// with it, and one that cures cool, for the thick walls of heavy boat blanks.
func resins() []shop.Resin {
	return []shop.Resin{
		{ID: "common", MaxRampCPerMin: 2.8, MaxC: 142, Soak: []shop.SoakPoint{{C: 112, Minutes: 140}, {C: 120, Minutes: 95}, {C: 132, Minutes: 60}}},
		{ID: "tough", MaxRampCPerMin: 2.2, MaxC: 150, Soak: []shop.SoakPoint{{C: 118, Minutes: 130}, {C: 128, Minutes: 85}, {C: 140, Minutes: 55}}},
		{ID: "cool", MaxRampCPerMin: 1.8, MaxC: 112, Soak: []shop.SoakPoint{{C: 82, Minutes: 330}, {C: 92, Minutes: 230}, {C: 104, Minutes: 150}}},
	}
}

func profiles() []shop.Profile {
	return []shop.Profile{
		{
			ID: shared, CoolCPerMin: 2.5, CoolToC: 52, RestMinutes: 20,
			Segments: []shop.Segment{{RampCPerMin: 2, ToC: 80, SoakMinutes: 15}, {RampCPerMin: 1.8, ToC: 124, SoakMinutes: 105}},
		},
		{
			ID: quick, CoolCPerMin: 2.5, CoolToC: 52, RestMinutes: 20,
			Segments: []shop.Segment{{RampCPerMin: 2.5, ToC: 132, SoakMinutes: 65}},
		},
		{
			ID: cool, CoolCPerMin: 2, CoolToC: 48, RestMinutes: 15,
			Segments: []shop.Segment{{RampCPerMin: 1.2, ToC: 70, SoakMinutes: 30}, {RampCPerMin: 1.2, ToC: 94, SoakMinutes: 220}},
		},
	}
}

func tapes() []shop.Tape {
	return []shop.Tape{{ID: filmLow, ShrinkFromC: 78, MaxC: 138}, {ID: filmHigh, ShrinkFromC: 108, MaxC: 190}}
}

// A sheet is a prepreg and what its flags weigh and build up.
type sheet struct {
	id, resin string
	open      int // minutes
	nest      float64
	ply       float64 // mm
	areal     float64 // kg of a square metre
}

var sheets = []sheet{
	{standard, "common", 5760, 0.86, 0.121, 0.189},
	{middle, "common", 5760, 0.84, 0.106, 0.165},
	{high, "tough", 5040, 0.82, 0.090, 0.141},
	{scrim, "common", 5760, 0.80, 0.045, 0.075},
	{thick, "cool", 4320, 0.86, 0.121, 0.189},
	{thickMesh, "cool", 5760, 0.80, 0.045, 0.075},
}

func sheetOf(id string) sheet {
	for _, s := range sheets {
		if s.id == id {
			return s
		}
	}
	panic("ternpoint: no prepreg " + id)
}

func prepregs() []shop.Prepreg {
	var out []shop.Prepreg
	for _, s := range sheets {
		out = append(out, shop.Prepreg{ID: s.id, Resin: s.resin, MaxOpenMinutes: s.open, NestYield: s.nest})
	}
	return out
}

// supply has every prepreg on the rack, most of it with a date by which to use
// it, and a delivery to come; the cool ones are scarce until then.
func (y yard) supply() []shop.Supply {
	lot := func(id, prepreg string, m2 float64, from, expires int) shop.Supply {
		return shop.Supply{ID: id, Prepreg: prepreg, M2: m2, From: y.in(from, 9*60), Expires: y.in(expires, 18*60)}
	}
	return []shop.Supply{
		lot("TP-S01", standard, 90, -12, 30), lot("TP-S02", standard, 260, 9, 160),
		lot("TP-M01", middle, 20, -5, 26), lot("TP-M02", middle, 36, 11, 170),
		lot("TP-H01", high, 14, -8, 18), lot("TP-H02", high, 36, 12, 120),
		lot("TP-N01", scrim, 30, -20, 35), lot("TP-N02", scrim, 50, 15, 200),
		lot("TP-C01", thick, 16, -9, 21), lot("TP-C02", thick, 110, 10, 110),
		lot("TP-Q01", thickMesh, 1.6, -9, 40), lot("TP-Q02", thickMesh, 9, 10, 110),
	}
}
