package cost

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// exchange lets sets of lines change places while that is cheaper, until no
// exchange is: first of two lines, then of any number. Lines that ship with
// others cannot be priced set by set; they count at what they press for.
func exchange(in *instance.Instance, shares []Share) []Share {
	if alike(in, shares) {
		return shares
	}
	x := &exchanger{in: in, shares: shares}
	x.swap()
	for x.many() {
		ring := x.ring()
		if ring == nil {
			break
		}
		x.turn(ring...)
		x.swap()
	}
	return x.shares
}

// alike reports whether all lines that could change places pay the same for a
// late day. Then those due first have the first sets already, and that is best.
func alike(in *instance.Instance, shares []Share) bool {
	price := Money(-1)
	for i := range shares {
		l := &in.Lines[shares[i].Line]
		if price >= 0 && l.Press != price || l.Order != instance.None {
			return false
		}
		price = l.Press
	}
	return true
}

// An exchanger holds the shares and, beside them, what its questions need most.
type exchanger struct {
	in     *instance.Instance
	shares []Share
	places []place // by share
}

// A place is a share as it stands, to ask what others would cost there.
type place struct {
	line    *instance.Line
	ship    shop.Date
	missing bool
	cost    Money // of a set of its line there
}

// look brings the places up to date with the shares.
func (x *exchanger) look() {
	x.places = x.places[:0]
	for i := range x.shares {
		s := &x.shares[i]
		x.places = append(x.places, place{&x.in.Lines[s.Line], s.Ship, s.Missing, pressing(x.in, s.Line, s.Ship, s.Missing)})
	}
}

// pressing returns what a set of a line costs that ships on a date, as far as the
// other lines of its product are concerned.
func pressing(in *instance.Instance, line int, ship shop.Date, missing bool) Money {
	l := &in.Lines[line]
	switch {
	case ship > l.Claim:
		return Money(ship-l.Claim) * l.Press
	case missing || l.Order != instance.None:
		return 0
	}
	return Money(l.Due-ship) * in.HoldPrice
}

// apart reports whether sets at two places can change places to any effect.
func (p *place) apart(q *place) bool {
	return p.ship != q.ship && p.line != q.line
}

// moving returns what a set at one place costs more at another.
func (x *exchanger) moving(p, to *place) Money {
	return pressing(x.in, p.line.Index, to.ship, to.missing) - p.cost
}

// many reports whether more than two lines could change places. Of two, swaps
// are all that there is.
func (x *exchanger) many() bool {
	var a, b *instance.Line
	for i := range x.places {
		switch l := x.places[i].line; {
		case l == a || l == b:
		case a == nil:
			a = l
		case b == nil:
			b = l
		default:
			return true
		}
	}
	return false
}

// swap exchanges sets of two lines while that is cheaper.
func (x *exchanger) swap() {
	x.look()
	for better := true; better; {
		better = false
		for i := 0; i < len(x.places); i++ {
			for j := i + 1; j < len(x.places); j++ {
				p, q := &x.places[i], &x.places[j]
				if p.apart(q) && x.moving(p, q)+x.moving(q, p) < 0 {
					x.turn(i, j)
					better = true
				}
			}
		}
	}
}

// ring returns shares, each of which takes the place of the next and the last
// that of the first, by which the cost falls; nil where there are none, and the
// shares are the cheapest. It is Bellman's and Ford's search for a negative
// cycle.
func (x *exchanger) ring() []int {
	n := len(x.places)
	far, from := make([]Money, n), make([]int, n)
	for i := range from {
		from[i] = instance.None
	}
	for nearer := true; nearer; {
		nearer = false
		for i := range x.places {
			p := &x.places[i]
			for j := range x.places {
				if q := &x.places[j]; p.apart(q) {
					if d := far[i] + x.moving(p, q); d < far[j] {
						far[j], from[j], nearer = d, i, true
					}
				}
			}
		}
		if ring := closed(from); ring != nil {
			return ring
		}
	}
	return nil
}

// closed returns a ring among links that each name the one before; nil where
// there is none.
func closed(from []int) []int {
	seen := make([]int, len(from)) // by which walk, counted from 1
	for start := range from {
		at := start
		for at != instance.None && seen[at] == 0 {
			seen[at] = start + 1
			at = from[at]
		}
		if at == instance.None || seen[at] != start+1 {
			continue
		}
		ring := []int{at}
		for before := from[at]; before != at; before = from[before] {
			ring = append([]int{before}, ring...)
		}
		return ring
	}
	return nil
}

// turn moves as many sets as all shares of a ring have, each to the place of the
// next, the last to that of the first.
func (x *exchanger) turn(ring ...int) {
	n := x.shares[ring[0]].Sets
	for _, k := range ring {
		n = min(n, x.shares[k].Sets)
	}
	for _, k := range ring {
		if rest := x.shares[k]; rest.Sets > n {
			rest.Sets -= n
			x.shares = append(x.shares, rest)
			x.shares[k].Sets = n
		}
	}
	last := x.shares[ring[len(ring)-1]].Line
	for _, k := range ring {
		x.shares[k].Line, last = last, x.shares[k].Line
	}
	x.look()
}
