// Package rack hangs the pieces of a load on racks (rule R3): which racks go
// into the oven, how their bars are set, and which pieces hang on which level.
//
// It knows nothing of time: how many racks are free is the timetable's
// business. It imports nothing of the engine; instance compiles its input.
package rack

import (
	"math"
	"sort"
)

// epsilon is half the contract's tolerance for decimals, so that no order of
// summing takes a weight past it.
const epsilon = 5e-7

// A Kind is one rack type in one set-up.
type Kind struct {
	Rack, Setup int // indices in the shop file
	Count       int // racks of this type in the shop
	Tare, MaxKg float64
	Levels      []Level
}

// A Level is one row of pegs of a Kind.
type Level struct {
	Clear float64 // mm
	Pegs  int
	Pitch float64 // mm
	id    int     // its column in Hanger.pegs
}

// A Piece is what one piece of a section needs when it hangs.
type Piece struct {
	Hang  float64 // mm, of its mandrel
	Width float64 // mm, its diameter and the gap
	Kg    float64 // with its mandrel
}

// A Run is some pieces of one section.
type Run struct {
	Section int
	Pieces  int
}

// A Rack is one rack of a packed load; Levels has an entry for each level of
// its Kind.
type Rack struct {
	Kind   *Kind
	Levels [][]Run
}

// A Hanger knows how many pegs a piece of each section takes on each level of
// each kind of rack.
type Hanger struct {
	Kinds  []*Kind
	pieces []Piece
	pegs   [][]int // [section][level id]; 0 where the piece hangs too long
	least  []int   // [section]: the fewest pegs on any level; 0 where it hangs too long for all
	rank   []int   // [section]: longest first, then widest, then heaviest, then by index
}

// NewHanger returns the Hanger of a shop's kinds of racks and its sections'
// pieces.
func NewHanger(kinds []*Kind, pieces []Piece) *Hanger {
	h := &Hanger{Kinds: kinds, pieces: pieces, pegs: make([][]int, len(pieces)), least: make([]int, len(pieces)), rank: make([]int, len(pieces))}
	levels := number(kinds)
	for s, piece := range pieces {
		h.pegs[s] = make([]int, levels)
		for _, k := range kinds {
			for i := range k.Levels {
				n := k.Levels[i].take(piece)
				h.pegs[s][k.Levels[i].id] = n
				if n > 0 && (h.least[s] == 0 || n < h.least[s]) {
					h.least[s] = n
				}
			}
		}
	}
	for r, s := range longestFirst(pieces) {
		h.rank[s] = r
	}
	return h
}

func number(kinds []*Kind) (levels int) {
	for _, k := range kinds {
		for i := range k.Levels {
			k.Levels[i].id = levels
			levels++
		}
	}
	return levels
}

// take returns the pegs that a piece takes on a level, 0 where it hangs too
// long for it.
func (l *Level) take(p Piece) int {
	if p.Hang > l.Clear+epsilon {
		return 0
	}
	return int(math.Max(1, math.Min(math.Ceil(p.Width/l.Pitch-2*epsilon), math.MaxInt32)))
}

func longestFirst(pieces []Piece) []int {
	order := make([]int, len(pieces))
	for s := range order {
		order[s] = s
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := pieces[order[i]], pieces[order[j]]
		if a.Hang != b.Hang {
			return a.Hang > b.Hang
		}
		if a.Width != b.Width {
			return a.Width > b.Width
		}
		return a.Kg > b.Kg
	})
	return order
}

// Piece returns what a piece of a section needs.
func (h *Hanger) Piece(section int) Piece { return h.pieces[section] }

// Pegs returns the pegs that a piece of a section takes on a level of a kind,
// 0 where it hangs too long for it.
func (h *Hanger) Pegs(section int, k *Kind, level int) int {
	return h.pegs[section][k.Levels[level].id]
}

// LeastPegs returns the fewest pegs that a piece of a section takes anywhere, 0
// where it hangs too long for all levels.
func (h *Hanger) LeastPegs(section int) int { return h.least[section] }

// Kg returns what runs weigh with their mandrels.
func (h *Hanger) Kg(runs []Run) (kg float64) {
	for _, r := range runs {
		kg += float64(r.Pieces) * h.pieces[r.Section].Kg
	}
	return kg
}

// Tare returns what the racks themselves weigh.
func Tare(racks []Rack) (kg float64) {
	for _, r := range racks {
		kg += r.Kind.Tare
	}
	return kg
}
