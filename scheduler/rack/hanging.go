package rack

import (
	"cmp"
	"slices"
)

// A hanging is runs on their way onto a set of racks.
type hanging struct {
	oven  *Oven
	runs  []Run // longest first
	kg    float64
	pegs  int // that they take, at the least
	combo *combo
	bars  []bar
	free  []float64 // by rack: kg
	hangs []hung
	puzzle
}

// A bar is one level of one rack while it is being filled.
type bar struct {
	level       *Level
	rack, index int
	free        int // pegs
}

// A hung is pieces on a bar.
type hung struct {
	bar int
	run Run
}

// hang hangs runs on the first set of racks that takes them.
func (h *hanging) hang(runs []Run) bool {
	h.order(runs)
	for i := range h.oven.combos {
		if h.combo = &h.oven.combos[i]; h.roomy() && h.fill() {
			return true
		}
	}
	return h.ponder()
}

// order takes runs up, longest first, and counts what they need at the least.
func (h *hanging) order(runs []Run) {
	hanger := h.oven.hanger
	h.runs = append(h.runs[:0], runs...)
	slices.SortFunc(h.runs, func(x, y Run) int { return cmp.Compare(hanger.rank[x.Section], hanger.rank[y.Section]) })
	h.kg, h.pegs = hanger.Kg(h.runs), 0
	for _, r := range h.runs {
		h.pegs += r.Pieces * hanger.least[r.Section]
	}
}

// roomy reports whether a set of racks has room enough in all.
func (h *hanging) roomy() bool {
	return h.pegs <= h.combo.pegs && h.kg+h.combo.tare <= h.oven.MaxKg+epsilon
}

// empty takes everything off the racks.
func (h *hanging) empty() {
	h.bars, h.free, h.hangs = append(h.bars[:0], h.combo.bars...), h.free[:0], h.hangs[:0]
	for _, k := range h.combo.kinds {
		h.free = append(h.free, k.MaxKg)
	}
}

// fill fills bar after bar; it reports false where a run is left over.
func (h *hanging) fill() bool {
	h.empty()
	for _, run := range h.runs {
		left := run.Pieces
		kg, takes := h.oven.hanger.pieces[run.Section].Kg, h.oven.hanger.pegs[run.Section]
		for i := range h.bars {
			b := &h.bars[i]
			pegs := takes[b.level.id]
			if pegs == 0 || b.free < pegs {
				continue
			}
			n := min(left, b.free/pegs, bear(h.free[b.rack], kg))
			if n <= 0 {
				continue
			}
			left -= n
			b.free -= n * pegs
			h.free[b.rack] -= float64(n) * kg
			h.hangs = append(h.hangs, hung{i, Run{run.Section, n}})
			if left == 0 {
				break
			}
		}
		if left > 0 {
			return false
		}
	}
	return true
}

// racks returns the racks with what hangs on their bars.
func (h *hanging) racks() []Rack {
	racks := make([]Rack, len(h.combo.kinds))
	for r, k := range h.combo.kinds {
		racks[r] = Rack{Kind: k, Levels: make([][]Run, len(k.Levels))}
	}
	for _, hung := range h.hangs {
		b := &h.bars[hung.bar]
		level := &racks[b.rack].Levels[b.index]
		*level = append(*level, hung.run)
	}
	return racks
}
