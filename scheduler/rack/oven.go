package rack

import "sort"

// An Oven is the room that racks share.
type Oven struct {
	Bays   int
	MaxKg  float64
	hanger *Hanger
	combos []combo // the sets of racks worth trying: fewest racks first, then the least tare
}

// A combo is a set of racks, with all their levels, the lowest clear height
// first.
type combo struct {
	kinds []*Kind
	tare  float64
	pegs  int
	bars  []bar
}

// maxCombos bounds the sets of racks that an oven tries. A shop with more
// racks and set-ups than that is packed from its smaller sets.
const maxCombos = 4000

// NewOven returns an oven of so many bays that takes the given kinds of racks,
// which must be those that clear its height.
func NewOven(h *Hanger, bays int, maxKg float64, kinds []*Kind) *Oven {
	o := &Oven{Bays: bays, MaxKg: maxKg, hanger: h}
	type partial struct {
		kinds []*Kind
		next  int // kinds are added in order, so that each multiset comes once
	}
	layer := []partial{{}}
	for size := 0; size < bays && len(layer) > 0; size++ {
		var wider []partial
		for _, p := range layer {
			for k := p.next; k < len(kinds) && len(o.combos) < maxCombos; k++ {
				if used(p.kinds, kinds[k].Rack) < kinds[k].Count && tare(p.kinds)+kinds[k].Tare <= maxKg+epsilon {
					set := append(p.kinds[:size:size], kinds[k])
					wider = append(wider, partial{set, k})
					o.combos = append(o.combos, newCombo(set))
				}
			}
		}
		layer = wider
	}
	sort.SliceStable(o.combos, func(i, j int) bool {
		a, b := &o.combos[i], &o.combos[j]
		if len(a.kinds) != len(b.kinds) {
			return len(a.kinds) < len(b.kinds)
		}
		return a.tare < b.tare
	})
	return o
}

func newCombo(kinds []*Kind) combo {
	c := combo{kinds: kinds, tare: tare(kinds)}
	for r, k := range kinds {
		for i := range k.Levels {
			c.bars = append(c.bars, bar{&k.Levels[i], r, i, k.Levels[i].Pegs})
			c.pegs += k.Levels[i].Pegs
		}
	}
	sort.SliceStable(c.bars, func(i, j int) bool { return c.bars[i].level.Clear < c.bars[j].level.Clear })
	return c
}

func used(kinds []*Kind, rack int) (n int) {
	for _, k := range kinds {
		if k.Rack == rack {
			n++
		}
	}
	return n
}

func tare(kinds []*Kind) (kg float64) {
	for _, k := range kinds {
		kg += k.Tare
	}
	return kg
}

// Pack hangs runs on as few racks as it can and reports whether they fit.
// Sections longest first fill the levels that clear them most tightly; the
// first set of racks that takes everything is taken. Where none does, Pack
// tries out other ways, but not forever: it may miss a way that there is.
func (o *Oven) Pack(runs []Run) ([]Rack, bool) {
	sorted := append(make([]Run, 0, len(runs)), runs...)
	rank := o.hanger.rank
	sort.Slice(sorted, func(i, j int) bool { return rank[sorted[i].Section] < rank[sorted[j].Section] })
	kg, pegs := o.hanger.Kg(sorted), 0
	for _, r := range sorted {
		pegs += r.Pieces * o.hanger.least[r.Section]
	}
	var room [64]bar
	for i := range o.combos {
		c := &o.combos[i]
		if pegs > c.pegs || kg+c.tare > o.MaxKg+epsilon {
			continue
		}
		if racks, ok := o.hang(sorted, c.kinds, append(room[:0], c.bars...)); ok {
			return racks, true
		}
	}
	return o.ponder(sorted, kg, pegs)
}

// A bar is one level of one rack while it is being filled.
type bar struct {
	level       *Level
	rack, index int
	free        int // pegs
}

// hang fills the bars; it builds the racks only once everything hangs.
func (o *Oven) hang(runs []Run, combo []*Kind, bars []bar) ([]Rack, bool) {
	var room [64]float64
	free := room[:0]
	for _, k := range combo {
		free = append(free, k.MaxKg)
	}
	var list [256]hung
	hangs := list[:0]
	for _, run := range runs {
		left := run.Pieces
		kg := o.hanger.pieces[run.Section].Kg
		for b := range bars {
			pegs := o.hanger.pegs[run.Section][bars[b].level.id]
			if left == 0 {
				break
			}
			if pegs == 0 {
				continue
			}
			n := min(left, bars[b].free/pegs, bear(free[bars[b].rack], kg))
			if n <= 0 {
				continue
			}
			left -= n
			bars[b].free -= n * pegs
			free[bars[b].rack] -= float64(n) * kg
			hangs = append(hangs, hung{b, Run{run.Section, n}})
		}
		if left > 0 {
			return nil, false
		}
	}
	return filled(combo, bars, hangs), true
}

// A hung is pieces on a bar.
type hung struct {
	bar int
	run Run
}

// filled returns the racks of a set with what hangs on their bars.
func filled(combo []*Kind, bars []bar, hangs []hung) []Rack {
	racks := make([]Rack, len(combo))
	for r, k := range combo {
		racks[r] = Rack{Kind: k, Levels: make([][]Run, len(k.Levels))}
	}
	for _, h := range hangs {
		level := &racks[bars[h.bar].rack].Levels[bars[h.bar].index]
		*level = append(*level, h.run)
	}
	return racks
}

// bear returns how many pieces of kg each a rack bears that has free kg left.
func bear(free, kg float64) int {
	if kg*1e9 <= free {
		return 1e9
	}
	return int((free + epsilon) / kg)
}
