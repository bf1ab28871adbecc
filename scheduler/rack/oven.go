package rack

import (
	"sort"
	"sync"
)

// An Oven is the room that racks share.
type Oven struct {
	Bays   int
	MaxKg  float64
	Kinds  []*Kind // those that clear its height
	hanger *Hanger
	combos []combo // the sets of racks worth trying: fewest racks first, then the least tare
	spare  sync.Pool
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
	o := &Oven{Bays: bays, MaxKg: maxKg, Kinds: kinds, hanger: h}
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
func (o *Oven) Pack(runs []Run) (racks []Rack, ok bool) {
	h := o.hanging()
	if ok = h.hang(runs); ok {
		racks = h.racks()
	}
	o.spare.Put(h)
	return racks, ok
}

// Fits reports whether Pack finds room for runs.
func (o *Oven) Fits(runs []Run) bool {
	h := o.hanging()
	ok := h.hang(runs)
	o.spare.Put(h)
	return ok
}

// Most returns the most pegs and kilograms that pieces can have of any set of
// racks, each by itself.
func (o *Oven) Most() (pegs int, kg float64) {
	for i := range o.combos {
		c := &o.combos[i]
		bear := 0.0
		for _, k := range c.kinds {
			bear += k.MaxKg
		}
		pegs, kg = max(pegs, c.pegs), max(kg, min(bear, o.MaxKg-c.tare))
	}
	return pegs, kg
}

// hanging returns a hanging to be put back among the spare ones: what fits is
// asked so often, and by several searches at once, that each keeps its memory.
func (o *Oven) hanging() *hanging {
	if h, ok := o.spare.Get().(*hanging); ok {
		return h
	}
	return &hanging{oven: o}
}

// bear returns how many pieces of kg each a rack bears that has free kg left.
func bear(free, kg float64) int {
	if kg*1e9 <= free {
		return 1e9
	}
	return int((free + epsilon) / kg)
}
