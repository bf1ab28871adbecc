package ovens

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// A packing hangs lots in as few loads as it can, whatever their time: load after
// load, each around the largest lot that is left, the fullest ways to complete it
// first. It goes back where that leaves too little room for the rest, but not
// forever. This is bin completion (R. E. Korf, AAAI 2002), for two sizes at once,
// with restarts in an order that is disturbed a little.
type packing struct {
	*shelf
	r     *rand.Rand
	way   instance.Way
	kinds []kind // the largest first
	sum   size   // of all lots
	// smallest is the least of each size that a lot has, and largest, by kind, the
	// most that a lot of this kind or a later one has.
	smallest size
	largest  []size
	waste    size // how much room the loads to come may leave unused
	loads    []*load
	thrift   float64 // the loss of a lot; see filling
	tries    int
	// visits are left before this try is given up: each is a look at what a load
	// could still take.
	visits int
}

// A size is what a lot takes of the most pegs, and of the most weight, that a load
// can have.
type size [2]float64

// most returns the larger of the two shares.
func (s size) most() float64 { return max(s[0], s[1]) }

// plus returns the size of s and n things of size t.
func (s size) plus(n int, t size) size {
	return size{s[0] + float64(n)*t[0], s[1] + float64(n)*t[1]}
}

// full is the size of a load, with a tolerance for sums.
const full = 1 + 1e-9

// A kind is lots that are alike to a rack, those due first first.
type kind struct {
	size size
	lots []int32
	used int // how many of them are in a load
}

// pack returns as few loads as it finds within so many visits, for lots that can
// be cured in the same ways; none where it finds no way at all.
func (s *state) pack(lots []int32, seed uint64, visits int) (best []*load) {
	for _, way := range s.p.roomiest(s.p.lots[lots[0]].ways) {
		p := &packing{shelf: s.shelf, r: rand.New(rand.NewPCG(seed, uint64(way.Profile))), way: way}
		p.sort(lots)
		if loads := p.fewest(visits); loads != nil && (best == nil || price(loads) < price(best)) {
			best = loads
		}
	}
	return best
}

// price returns what the ovens' work for some loads costs.
func price(loads []*load) (sum Money) {
	for _, l := range loads {
		sum += l.price
	}
	return sum
}

// roomiest returns, of each profile's ways, the one whose oven has the most room.
func (p *Problem) roomiest(ways []instance.Way) (best []instance.Way) {
	room := func(w instance.Way) float64 {
		pegs, kg := p.in.Ovens[w.Oven].Room.Most()
		return float64(pegs) * kg
	}
	for _, way := range ways {
		at := slices.IndexFunc(best, func(b instance.Way) bool { return b.Profile == way.Profile })
		switch {
		case at < 0:
			best = append(best, way)
		case room(way) > room(best[at]):
			best[at] = way
		}
	}
	return best
}

// sort makes kinds of lots.
func (p *packing) sort(lots []int32) {
	pegs, kg := p.p.in.Ovens[p.way.Oven].Room.Most()
	type look struct {
		piece  rack.Piece
		pieces int
	}
	known := map[look]int{}
	for _, lot := range lots {
		run := p.p.lots[lot].run
		key := look{p.p.in.Hanger.Piece(run.Section), run.Pieces}
		k, ok := known[key]
		if !ok {
			k = len(p.kinds)
			known[key] = k
			one := size{float64(p.p.in.Hanger.LeastPegs(run.Section)) / float64(max(1, pegs)), 0}
			if key.piece.Kg > 0 {
				one[1] = key.piece.Kg / kg
			}
			p.kinds = append(p.kinds, kind{size: size{}.plus(run.Pieces, one)})
		}
		p.kinds[k].lots = append(p.kinds[k].lots, lot)
		p.sum = p.sum.plus(1, p.kinds[k].size)
	}
	slices.SortStableFunc(p.kinds, func(a, b kind) int { return cmp.Compare(b.size.most(), a.size.most()) })
	p.measure()
}

// measure finds the smallest and largest sizes.
func (p *packing) measure() {
	p.largest, p.smallest = make([]size, len(p.kinds)), size{1, 1}
	so := size{}
	for k := len(p.kinds) - 1; k >= 0; k-- {
		for d, x := range p.kinds[k].size {
			so[d], p.smallest[d] = max(so[d], x), min(p.smallest[d], x)
		}
		p.largest[k] = so
	}
}

// fewest tries one number of loads after the other, from what the sizes leave
// possible up to what is no packing any more. The first takes at most half of the
// visits, the next half of the rest, and so on.
func (p *packing) fewest(visits int) []*load {
	least := max(1, int(math.Ceil(p.sum.most()-(full-1))))
	for n := least; n <= 2*least+1; n++ {
		share := max(visits/2, shortTry)
		visits -= share
		if p.try(n, share) {
			return p.loads
		}
	}
	return nil
}

// try tries to do with n loads, again and again within so many visits: every
// other try is a short one, and the rest take longer and longer.
func (p *packing) try(n, visits int) bool {
	p.tries = 0
	for long := shortTry; visits > 0; long += long / 2 {
		for _, most := range []int{shortTry, long} {
			p.start(n, min(most, visits))
			if p.fill() {
				return true
			}
			visits -= most
			p.tries++
		}
	}
	return false
}

// shortTry is how many visits a short try takes.
const shortTry = 10000

// start takes down all loads, for another try with n of them.
func (p *packing) start(n, visits int) {
	p.visits, p.loads = visits, p.loads[:0]
	p.thrift = firstThrift
	if p.tries > 0 {
		p.thrift = mostThrift * p.r.Float64()
	}
	p.waste = size{float64(n), float64(n)}.plus(-1, p.sum)
	for k := range p.kinds {
		p.kinds[k].used = 0
	}
}

// fill hangs all lots that are left.
func (p *packing) fill() bool {
	first := slices.IndexFunc(p.kinds, func(k kind) bool { return k.used < len(k.lots) })
	if first < 0 {
		return true
	}
	for _, f := range p.completions(first) {
		if p.take(&f) {
			return true
		}
		if p.visits < 0 {
			return false
		}
	}
	return false
}

// take hangs one load and then the rest; it takes it down again where that fails.
func (p *packing) take(f *filling) bool {
	var lots []int32
	for k, n := range f.counts {
		kind := &p.kinds[k]
		lots = append(lots, kind.lots[kind.used:kind.used+n]...)
	}
	l := p.of(p.way, lots...)
	if l == nil {
		return false
	}
	p.count(f, 1)
	p.loads = append(p.loads, l)
	if p.fill() {
		return true
	}
	p.loads = p.loads[:len(p.loads)-1]
	p.count(f, -1)
	return false
}

// count counts a load in, or out.
func (p *packing) count(f *filling, sign int) {
	for k, n := range f.counts {
		p.kinds[k].used += sign * n
	}
	p.waste = p.waste.plus(-sign, f.left)
}
