package cost

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// exchange lets sets of lines change places while that is cheaper, until no
// exchange is: first of two lines, then of any number. Lines that ship with
// others cannot be priced set by set; they count at what they press for.
func (t *tally) exchange() {
	if t.alike() {
		return
	}
	t.swap()
	for t.many() {
		ring := t.ring()
		if ring == nil {
			break
		}
		t.turn(ring...)
		t.swap()
	}
}

// alike reports whether all lines that could change places pay the same for a
// late day. Then those due first have the first sets already, and that is best.
func (t *tally) alike() bool {
	price := Money(-1)
	for i := range t.shares {
		l := &t.in.Lines[t.shares[i].Line]
		if price >= 0 && l.Press != price || l.Order != instance.None {
			return false
		}
		price = l.Press
	}
	return true
}

// A place is a share as it stands, to ask what others would cost there.
type place struct {
	line    *instance.Line
	press   Money // of its line, per set and late day, in the eyes of the others
	hold    Money // of its line, per set and day; 0 where it ships with others
	ship    shop.Date
	missing bool
	cost    Money // of a set of its line there
}

// look brings the places up to date with the shares.
func (t *tally) look() {
	t.places = t.places[:0]
	for i := range t.shares {
		t.places = append(t.places, t.place(i))
	}
}

// place returns a share's place.
func (t *tally) place(share int) place {
	s := &t.shares[share]
	p := place{line: &t.in.Lines[s.Line], ship: s.Ship, missing: s.Missing}
	if p.press = p.line.Press; p.line.Order == instance.None {
		p.hold = t.in.HoldPrice
	} else if stance := t.stances[p.line.Order]; stance != undecided {
		p.press = stance
	}
	p.cost = p.pressing(&p)
	return p
}

// pressing returns what a set of a place's line costs at another place, as far as
// the other lines of its product are concerned.
func (p *place) pressing(at *place) Money {
	switch {
	case at.ship > p.line.Claim:
		return Money(at.ship-p.line.Claim) * p.press
	case at.missing:
		return 0
	}
	return Money(p.line.Due-at.ship) * p.hold
}

// apart reports whether sets at two places can change places to any effect.
func (p *place) apart(q *place) bool {
	return p.ship != q.ship && p.line != q.line
}

// moving returns what a set at one place costs more at another.
func (p *place) moving(to *place) Money { return p.pressing(to) - p.cost }

// many reports whether more than two lines could change places. Of two, swaps
// are all that there is.
func (t *tally) many() bool {
	var a, b *instance.Line
	for i := range t.places {
		switch l := t.places[i].line; {
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
func (t *tally) swap() {
	t.look()
	for better := true; better; {
		better = false
		for i := 0; i < len(t.places); i++ {
			for j := i + 1; j < len(t.places); j++ {
				p, q := &t.places[i], &t.places[j]
				if p.apart(q) && p.moving(q)+q.moving(p) < 0 {
					t.turn(i, j)
					better = true
				}
			}
		}
	}
}

// turn moves as many sets as all shares of a ring have, each to the place of the
// next, the last to that of the first.
func (t *tally) turn(ring ...int) {
	n := t.shares[ring[0]].Sets
	for _, k := range ring {
		n = min(n, t.shares[k].Sets)
	}
	for _, k := range ring {
		if rest := t.shares[k]; rest.Sets > n {
			rest.Sets -= n
			t.shares = append(t.shares, rest)
			t.places = append(t.places, t.places[k])
			t.shares[k].Sets = n
		}
	}
	last := t.shares[ring[len(ring)-1]].Line
	for _, k := range ring {
		t.shares[k].Line, last = last, t.shares[k].Line
		t.places[k] = t.place(k)
	}
}
