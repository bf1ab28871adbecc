package cost

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// exchange lets sets of lines change places while that is cheaper, until no
// exchange of any number of them is. Lines that ship with others cannot be priced
// set by set; they count at what they press for.
func (t *tally) exchange() {
	if t.alike() {
		return
	}
	t.look()
	for ring := t.ring(); ring != nil; ring = t.ring() {
		t.turn(ring)
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

// A place is a share as it stands, to ask what it would cost elsewhere.
type place struct {
	line  *instance.Line
	press Money // of its line, per set and late day, in the eyes of the others
	hold  Money // of its line, per set and day; 0 where it ships with others
	when  when
	cost  Money // of a set of its line there
}

// A when is the date on which a place's sets ship; to the cost, places of one are all
// one.
type when struct {
	ship    shop.Date
	missing bool
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
	p := place{line: &t.in.Lines[s.Line], when: when{s.Ship, s.Missing}}
	if p.press = p.line.Press; p.line.Order == instance.None {
		p.hold = t.in.HoldPrice
	} else if stance := t.stances[p.line.Order]; stance != undecided {
		p.press = stance
	}
	p.cost = p.pressing(p.when)
	return p
}

// pressing returns what a set of a place's line costs that ships on another date, as
// far as the other lines of its product are concerned.
func (p *place) pressing(at when) Money {
	switch {
	case at.ship > p.line.Claim:
		return Money(at.ship-p.line.Claim) * p.press
	case at.missing:
		return 0
	}
	return Money(p.line.Due-at.ship) * p.hold
}

// turn moves as many sets as all shares of a ring have, each to the place of the
// next, the last to that of the first.
func (t *tally) turn(ring []int) {
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
