package ovens

import (
	"cmp"
	"math"
	"slices"
)

// A completion lists the ways to fill a load around one lot.
type completion struct {
	p      *packing
	counts []int // by kind: lots in the load
	visits int   // left before it makes do with what it has found
	found  []filling
}

// A filling is one way to fill a load.
type filling struct {
	counts []int // by kind
	left   size  // room that it leaves
	loss   float64
}

// mostVisits bounds how long the ways to fill one load are looked for.
const mostVisits = 4000

// completions returns the ways to fill a load around a lot of a kind, the best
// first. No lot that is left fits in beside them.
func (p *packing) completions(first int) []filling {
	c := &completion{p: p, counts: make([]int, len(p.kinds)), visits: mostVisits}
	c.counts[first] = 1
	c.extend(first, p.kinds[first].size)
	slices.SortStableFunc(c.found, func(a, b filling) int { return cmp.Compare(a.loss, b.loss) })
	return c.found
}

// extend adds lots of the kinds from k on to a load that has come to a size.
func (c *completion) extend(k int, so size) {
	c.visits--
	if c.p.visits--; c.visits < 0 || c.p.visits < 0 {
		return
	}
	if c.vain(k, so) {
		return
	}
	for ; k < len(c.p.kinds); k++ {
		most := 0
		for most < c.free(k) && so.plus(most+1, c.p.kinds[k].size).most() <= full {
			most++
		}
		if most == 0 {
			continue
		}
		for n := most; n >= 0; n-- {
			c.counts[k] += n
			c.extend(k+1, so.plus(n, c.p.kinds[k].size))
			c.counts[k] -= n
		}
		return
	}
	c.close(so)
}

// vain reports whether a load of a size must waste too much if only lots of the
// kinds from k on are added: no more than there is room for of the smallest, and
// none larger than the largest.
func (c *completion) vain(k int, so size) bool {
	for d, small := range c.p.smallest {
		gain := 0.0
		if k < len(c.p.kinds) && small > 0 {
			gain = math.Floor((full-so[d])/small) * c.p.largest[k][d]
		} else if k < len(c.p.kinds) {
			continue
		}
		if 1-so[d]-gain > c.p.waste[d]+(full-1) {
			return true
		}
	}
	return false
}

// free returns how many lots of a kind the load could still take, for all that
// they weigh.
func (c *completion) free(k int) int {
	kind := &c.p.kinds[k]
	return len(kind.lots) - kind.used - c.counts[k]
}

// close notes a load to which nothing is added any more, unless it wastes too much
// or has room for another lot.
func (c *completion) close(so size) {
	f := filling{left: size{1, 1}.plus(-1, so)}
	for d, left := range f.left {
		slack := c.p.waste[d] + (full - 1)
		if left > slack {
			return
		}
		f.loss = max(f.loss, left/slack)
	}
	lots := 0
	for k := range c.p.kinds {
		if c.free(k) > 0 && so.plus(1, c.p.kinds[k].size).most() <= full {
			return
		}
		lots += c.counts[k]
	}
	f.loss += c.p.thrift * float64(lots)
	if c.p.tries > 0 {
		f.loss += disturbance * c.p.r.Float64()
	}
	f.counts = slices.Clone(c.counts)
	c.found = append(c.found, f)
}

// A filling's loss is the share that it takes of the room that may be wasted, and
// the packing's thrift for each of its lots: small ones are kept for later, where
// they fill what the large ones leave. How thrifty to be differs from try to try,
// and after the first so does the order a little.
const (
	firstThrift = 0.02
	mostThrift  = 0.1
	disturbance = 0.05
)
