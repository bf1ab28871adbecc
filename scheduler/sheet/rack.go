package sheet

import (
	"math"

	"blankwright/scheduler/shop"
)

// A Rack is one rack as it is to be hung, to be drawn from its measures. Kg
// weighs what hangs on it, without the tare.
type Rack struct {
	Type     string  `json:"type"`
	SetUp    string  `json:"set_up"`
	HeightMM float64 `json:"height_mm"` // outer
	TareKg   float64 `json:"tare_kg"`
	Kg       float64 `json:"kg"`
	MaxKg    float64 `json:"max_kg"`
	Pieces   int     `json:"pieces"`
	Levels   []Level `json:"levels"` // the set-up's, the first on top
}

// A Level is one bar of pegs with what hangs on it. BarMM is the bar's height
// above the floor: the set-up states clear heights only, so what is left of
// the outer height is shared out evenly among the bars and the foot.
type Level struct {
	BarMM   float64 `json:"bar_mm"`
	ClearMM float64 `json:"clear_mm"`
	PitchMM float64 `json:"pitch_mm"`
	Pegs    int     `json:"pegs"`
	Used    int     `json:"used"` // pegs
	Hangs   []Hang  `json:"hangs"`
}

// A Hang is some pieces of one section, side by side on the pegs from
// FirstPeg on, which counts from 1; each piece takes PegsEach.
type Hang struct {
	Section  string  `json:"section"`
	Product  string  `json:"product"` // its name
	Mandrel  string  `json:"mandrel"` // type
	Pieces   int     `json:"pieces"`
	FirstPeg int     `json:"first_peg"`
	PegsEach int     `json:"pegs_each"`
	HangMM   float64 `json:"hang_mm"`
}

// LastPeg returns the last peg that the pieces take.
func (h Hang) LastPeg() int { return h.FirstPeg + h.Pieces*h.PegsEach - 1 }

func (b *builder) rack(use *shop.RackUse) Rack {
	kind, setup := b.rackSetup(use)
	r := Rack{
		Type: use.Rack, SetUp: use.Setup, HeightMM: setup.OuterHeightMM,
		TareKg: kind.TareKg, MaxKg: kind.MaxKg, Levels: levels(setup),
	}
	for i, hangs := range use.Levels {
		if i == len(r.Levels) {
			r.Levels = append(r.Levels, Level{Hangs: []Hang{}}) // more than the set-up has
		}
		for _, h := range hangs {
			b.hang(&r.Levels[i], h)
			r.Pieces += h.Pieces
			r.Kg += float64(h.Pieces) * (b.section(h.Section).Kg + b.mandrelType(b.section(h.Section).Mandrel).Kg)
		}
	}
	return r
}

// hang puts pieces on a level's first free pegs.
func (b *builder) hang(l *Level, pieces shop.Hang) {
	section := b.section(pieces.Section)
	h := Hang{
		Section: section.ID, Product: b.productName(section.ID), Mandrel: section.Mandrel, Pieces: pieces.Pieces,
		FirstPeg: l.Used + 1, PegsEach: pegs(section.ODMM+b.shop.Policy.GapMM, l.PitchMM),
		HangMM: b.mandrelType(section.Mandrel).HangMM,
	}
	l.Used += h.Pieces * h.PegsEach
	l.Hangs = append(l.Hangs, h)
}

// levels returns a set-up's bars, bare, at their heights.
func levels(setup shop.Setup) []Level {
	spare := setup.OuterHeightMM
	for _, l := range setup.Levels {
		spare -= l.ClearMM
	}
	share := max(0, spare) / float64(len(setup.Levels)+1)
	var out []Level
	height := setup.OuterHeightMM
	for _, l := range setup.Levels {
		height -= share
		out = append(out, Level{BarMM: height, ClearMM: l.ClearMM, PitchMM: l.PitchMM, Pegs: l.Pegs, Hangs: []Hang{}})
		height -= l.ClearMM
	}
	return out
}

// pegs returns how many pegs a piece of some width takes (rule R3).
func pegs(width, pitch float64) int {
	if pitch <= 0 {
		return 1
	}
	return max(1, int(math.Ceil(width/pitch-tolerance)))
}

func (b *builder) rackSetup(use *shop.RackUse) (shop.Rack, shop.Setup) {
	for _, r := range b.shop.Racks {
		if r.ID != use.Rack {
			continue
		}
		for _, s := range r.Setups {
			if s.ID == use.Setup {
				return r, s
			}
		}
		return r, shop.Setup{ID: use.Setup}
	}
	return shop.Rack{ID: use.Rack}, shop.Setup{ID: use.Setup}
}
