package bound

import (
	"math"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// epsilon is the contract's tolerance for decimals.
const epsilon = 1e-6

// A racking is a set of racks in an oven, as far as it bounds what a load can
// hold: pegs on the levels that clear a height, and kilograms.
type racking struct {
	tare float64
	kg   float64 // that its pieces may weigh, the tolerance included
	pegs []int   // by height: on the levels that clear it
	take []int   // by section: the fewest pegs that a piece takes; 0 where no level clears it
	rank int     // of take among those of all rackings
}

// heights are the clear heights of the levels there are, the lowest first.
type heights []float64

func heightsOf(in *instance.Instance) (h heights) {
	for _, k := range in.Hanger.Kinds {
		for i := range k.Levels {
			h = append(h, k.Levels[i].Clear)
		}
	}
	slices.Sort(h)
	return slices.Compact(h)
}

// of returns the lowest height that clears a piece; len(h) where none does.
func (h heights) of(p rack.Piece) int {
	i, _ := slices.BinarySearch(h, p.Hang-epsilon)
	return i
}

// maxRackings bounds the sets of racks that are looked at one by one. An oven of
// more is bounded by sets in which each rack has all its set-ups at once, and, if
// these are too many still, by one that has all racks for the weight of the
// lightest.
const maxRackings = 120

// noEnd is more pegs than any shop needs.
const noEnd = 1 << 40

// rackings returns the sets of racks that an oven may hold.
func rackings(in *instance.Instance, h heights, o *rack.Oven) []racking {
	var single []part
	for _, k := range o.Kinds {
		single = append(single, newPart(in, h, k))
	}
	if sets, ok := gather(o, single); ok {
		return sets
	}
	single = byRack(single)
	if sets, ok := gather(o, single); ok {
		return sets
	}
	return []racking{endless(o, single)}
}

// byRack merges the set-ups of each rack.
func byRack(parts []part) []part {
	return merged(parts, func(a, b *part) bool { return a.rack == b.rack })
}

// endless returns the racking that is as good as any of the parts and has pegs
// without end.
func endless(o *rack.Oven, parts []part) racking {
	all := merged(parts, func(_, _ *part) bool { return true })[0]
	for i := range all.pegs {
		all.pegs[i] = noEnd
	}
	all.kg = o.MaxKg
	return all.in(o)
}

// A part is a rack of a racking.
type part struct {
	racking
	rack, count int
}

func newPart(in *instance.Instance, h heights, k *rack.Kind) part {
	p := part{rack: k.Rack, count: k.Count, racking: racking{
		tare: k.Tare, kg: k.MaxKg, pegs: make([]int, len(h)), take: make([]int, len(in.Sections)),
	}}
	for i := range k.Levels {
		l := &k.Levels[i]
		for j := 0; j < len(h) && h[j] <= l.Clear; j++ {
			p.pegs[j] += l.Pegs
		}
		for s := range p.take {
			p.take[s] = fewer(p.take[s], pegsOf(in.Hanger.Piece(s), l))
		}
	}
	return p
}

// pegsOf returns the pegs that a piece takes on a level, 0 where it hangs too
// long for it.
func pegsOf(p rack.Piece, l *rack.Level) int {
	if p.Hang > l.Clear+epsilon {
		return 0
	}
	return int(math.Max(1, math.Min(math.Ceil(p.Width/l.Pitch-epsilon), math.MaxInt32)))
}

// fewer returns the lesser of two takes, of which 0 is none.
func fewer(a, b int) int {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}

// merged returns parts that are as good in everything as each of those alike.
func merged(parts []part, alike func(a, b *part) bool) (out []part) {
	for i := range parts {
		p := &parts[i]
		k := slices.IndexFunc(out, func(q part) bool { return alike(&q, p) })
		if k < 0 {
			out = append(out, *p)
			continue
		}
		q := &out[k]
		q.pegs, q.take = slices.Clone(q.pegs), slices.Clone(q.take)
		q.tare, q.kg = min(q.tare, p.tare), max(q.kg, p.kg)
		for j := range q.pegs {
			q.pegs[j] = max(q.pegs[j], p.pegs[j])
		}
		for s := range q.take {
			q.take[s] = fewer(q.take[s], p.take[s])
		}
	}
	return out
}

// gather returns all sets of up to as many parts as an oven has bays; false where
// there are too many.
func gather(o *rack.Oven, parts []part) (sets []racking, ok bool) {
	var chosen []int
	var from func(next int) bool
	from = func(next int) bool {
		for i := next; i < len(parts); i++ {
			if !fits(o, parts, append(chosen, i)) {
				continue
			}
			chosen = append(chosen, i)
			sets = append(sets, sum(parts, chosen).in(o))
			if len(sets) > maxRackings || !from(i) {
				return false
			}
			chosen = chosen[:len(chosen)-1]
		}
		return true
	}
	return sets, from(0)
}

// fits reports whether an oven has the bays, the shop the racks, and both the
// strength for some parts, of which the last is new.
func fits(o *rack.Oven, parts []part, chosen []int) bool {
	last := &parts[chosen[len(chosen)-1]]
	tare, used := 0.0, 0
	for _, i := range chosen {
		tare += parts[i].tare
		if parts[i].rack == last.rack {
			used++
		}
	}
	return len(chosen) <= o.Bays && used <= last.count && tare <= o.MaxKg+epsilon
}

func sum(parts []part, chosen []int) part {
	p := part{racking: racking{pegs: make([]int, len(parts[0].pegs)), take: make([]int, len(parts[0].take))}}
	for _, i := range chosen {
		q := &parts[i]
		p.tare, p.kg = p.tare+q.tare, p.kg+q.kg+epsilon
		for j := range p.pegs {
			p.pegs[j] = min(noEnd, p.pegs[j]+q.pegs[j])
		}
		for s := range p.take {
			p.take[s] = fewer(p.take[s], q.take[s])
		}
	}
	return p
}

// in returns the racking that a part is in an oven.
func (p part) in(o *rack.Oven) racking {
	p.kg = min(p.kg, o.MaxKg-p.tare) + 2*epsilon
	return p.racking
}

// ranked sets the rank of a racking among the takes that are known, and returns
// these with its own.
func (r *racking) ranked(takes [][]int) [][]int {
	r.rank = slices.IndexFunc(takes, func(take []int) bool { return slices.Equal(take, r.take) })
	if r.rank < 0 {
		r.rank = len(takes)
		takes = append(takes, r.take)
	}
	return takes
}
