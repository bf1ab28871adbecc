package bound

import (
	"math/bits"
	"slices"

	"blankwright/scheduler/instance"
)

// A filler finds what pieces of a given worth can add up to at most in a load.
//
// It relaxes rule R3: pieces may be split, a level's pegs serve every piece that
// is short enough, and weight counts for all racks together. What is left is a
// chain of limits, each of which holds for the pieces longer than some height,
// one limit for each mandrel type, and the weight. Without the weight, taking
// what is worth most by peg is optimal; the weight enters at a price by kilogram,
// and at any price the result is a bound.
type filler struct {
	in     *instance.Instance
	class  []int // by section: its height
	lots   []lot
	need   []int     // by section: the pieces that a load can have
	worth  []Money   // by lot: of a piece
	ranked [][]item  // by rank of a racking: the lots by worth of a peg, once asked for
	order  []item    // of the fill at hand
	left   []int     // by height: parts of pegs
	pool   []int     // by mandrel type: parts of pegs
	rest   []int     // by section: parts of pegs
	amount []float64 // by lot: the pieces of the last fill
	heavy  []float64 // by lot: those of one that weighs too much
	light  []float64 // and of one that does not
}

// A lot is pieces of a section that are worth the same each; limit is how many a
// load can have, in parts of a piece.
type lot struct{ section, limit int }

// fine is how many parts make a piece, or a peg.
const fine = 1000

// An item is a lot while a load is being filled.
type item struct {
	lot     int
	section int
	take    int
	worth   Money   // of a piece, less the price of its weight
	density float64 // of the worth, about
}

// newFiller returns the filler of loads of which none has more pieces of a section
// than are needed, nor of a mandrel type than there are mandrels.
func newFiller(in *instance.Instance, h heights, lots []lot, need []int) *filler {
	f := &filler{
		in: in, class: make([]int, len(in.Sections)), lots: lots, need: make([]int, len(need)), rest: make([]int, len(need)),
		left: make([]int, len(h)), pool: make([]int, len(in.Mandrels)), amount: make([]float64, len(lots)),
	}
	for s := range in.Sections {
		f.class[s] = h.of(in.Hanger.Piece(s))
		f.need[s] = min(need[s], in.Mandrels[in.Sections[s].Mandrel].Total)
	}
	return f
}

// lotsOf returns a lot of each section.
func lotsOf(pieces []int) (lots []lot) {
	for s, n := range pieces {
		lots = append(lots, lot{s, fine * n})
	}
	return lots
}

// set says what pieces are worth from now on, by lot.
func (f *filler) set(worth []Money) {
	f.worth = worth
	for i := range f.ranked {
		f.ranked[i] = f.ranked[i][:0]
	}
}

// most returns the most that the pieces of a load are worth. It leaves in amount
// the pieces of a load that is worth about as much.
func (f *filler) most(r *racking, profile int) Money {
	best, kg := f.fill(r, profile, 0)
	if kg <= r.kg {
		return best
	}
	// The bound is convex in the price of weight: it falls while the pieces weigh
	// too much, and rises from there on. Two lines meet below its least point.
	low := slope{0, float64(best), r.kg - kg}
	f.heavy = append(f.heavy[:0], f.amount...)
	high := slope{f.dearest(), 0, r.kg}
	high.value = high.at * r.kg
	f.light = append(f.light[:0], f.amount...)
	clear(f.light)
	for range maxPrices {
		at := low.meet(high)
		if !(at > low.at && at < high.at) {
			break
		}
		value, kg := f.fill(r, profile, at)
		best = min(best, value)
		if s := (slope{at, float64(value), r.kg - kg}); s.by < 0 {
			low, f.heavy = s, append(f.heavy[:0], f.amount...)
		} else {
			high, f.light = s, append(f.light[:0], f.amount...)
		}
	}
	f.mix(high.by / (high.by - low.by))
	return best
}

// mix leaves in amount the load between a too heavy and a light one that is just
// as heavy as it may be.
func (f *filler) mix(heavy float64) {
	for s := range f.amount {
		f.amount[s] = heavy*f.heavy[s] + (1-heavy)*f.light[s]
	}
}

// maxPrices bounds the prices of weight that are tried for a fill.
const maxPrices = 12

// A slope is the value of a convex function at a point, and by how much it rises
// there.
type slope struct{ at, value, by float64 }

// meet returns where two tangents cross.
func (a slope) meet(b slope) float64 {
	return (b.value - b.by*b.at - a.value + a.by*a.at) / (a.by - b.by)
}

// dearest returns a price by kilogram at which no item of the last fill is worth
// its weight.
func (f *filler) dearest() (price float64) {
	for i := range f.order {
		it := &f.order[i]
		if kg := f.in.Hanger.Piece(it.section).Kg; kg > 0 {
			price = max(price, float64(it.worth)/kg)
		}
	}
	return 2*price + 1
}

// fill fills a load where a kilogram has a price, and returns what it is worth
// and weighs. Rounding only raises the worth.
func (f *filler) fill(r *racking, profile int, price float64) (total Money, kg float64) {
	f.list(r, profile, price)
	for j, pegs := range r.pegs {
		f.left[j] = fine * pegs
	}
	clear(f.pool)
	clear(f.amount)
	for i := range f.order {
		it := &f.order[i]
		m := f.in.Sections[it.section].Mandrel
		f.pool[m] = max(f.pool[m], it.take*fine*f.in.Mandrels[m].Total)
		f.rest[it.section] = it.take * fine * f.need[it.section]
	}
	for i := range f.order {
		it := &f.order[i]
		parts := f.room(it)
		if parts == 0 {
			continue
		}
		total = plus(total, share(it.worth, parts, fine*it.take))
		n := float64(parts) / float64(fine*it.take)
		f.amount[it.lot] = n
		kg += n * f.in.Hanger.Piece(it.section).Kg
	}
	return plus(total, up(price*r.kg)), kg
}

// list lists the lots that are worth hanging, those first that are worth most
// by peg.
func (f *filler) list(r *racking, profile int, price float64) {
	f.order = f.order[:0]
	for _, it := range f.rank(r) {
		if !f.in.Sections[it.section].Profiles[profile] {
			continue
		}
		if price > 0 {
			it.worth -= down(price * f.in.Hanger.Piece(it.section).Kg)
			it.density = float64(it.worth) / float64(it.take)
		}
		if it.worth > 0 {
			f.order = append(f.order, it)
		}
	}
	if price > 0 {
		slices.SortFunc(f.order, byDensity)
	}
}

// rank returns the lots that hang on a racking, those first that are worth
// most by peg.
func (f *filler) rank(r *racking) []item {
	for len(f.ranked) <= r.rank {
		f.ranked = append(f.ranked, nil)
	}
	list := f.ranked[r.rank]
	if len(list) > 0 {
		return list
	}
	for i, w := range f.worth {
		s := f.lots[i].section
		if take := r.take[s]; w > 0 && take > 0 && f.lots[i].limit > 0 {
			list = append(list, item{i, s, take, w, float64(w) / float64(take)})
		}
	}
	slices.SortFunc(list, byDensity)
	f.ranked[r.rank] = list
	return list
}

// byDensity compares exactly: the order decides what is the most.
func byDensity(a, b item) int {
	const apart = 1e-9 // more than rounding can do
	switch d := a.density - b.density; {
	case d > apart*a.density:
		return -1
	case -d > apart*b.density:
		return 1
	}
	aHigh, aLow := bits.Mul64(uint64(a.worth), uint64(b.take))
	bHigh, bLow := bits.Mul64(uint64(b.worth), uint64(a.take))
	switch {
	case aHigh != bHigh:
		return sign(aHigh < bHigh)
	case aLow != bLow:
		return sign(aLow < bLow)
	}
	return a.lot - b.lot
}

func sign(less bool) int {
	if less {
		return 1
	}
	return -1
}

// room takes as many parts of pegs for an item as it can have, and returns how many.
func (f *filler) room(it *item) int {
	m := f.in.Sections[it.section].Mandrel
	n := min(it.take*f.lots[it.lot].limit, f.rest[it.section], f.pool[m])
	heights := f.left[:f.class[it.section]+1]
	for _, left := range heights {
		n = min(n, left)
	}
	for j := range heights {
		heights[j] -= n
	}
	f.pool[m] -= n
	f.rest[it.section] -= n
	return n
}
