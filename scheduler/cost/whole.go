package cost

import (
	"slices"

	"blankwright/scheduler/instance"
)

// What an order presses for where it is not what its lines say: nothing, once it is
// given up.
const (
	undecided Money = -1
	givenUp   Money = 0
)

// A fate is when the last set of an order's lines of one product ships, and
// whether any is missing.
type fate struct {
	shipped
	counted bool
}

// decide sees to it that no set is wasted on an order that ships complete and lacks
// another: where there are too few sets, order after order, the one with least at
// stake first, either gets all of its sets or gives way to the other lines, whichever
// costs less.
func (t *tally) decide(p *instance.Product) {
	if !slices.ContainsFunc(t.shares, func(s Share) bool { return s.Missing }) {
		return
	}
	for o := t.next(p); o != instance.None; o = t.next(p) {
		t.before = append(t.before[:0], t.shares...)
		t.stances[o] = givenUp
		t.exchange()
		less := t.sum(p)
		t.without = append(t.without[:0], t.shares...)
		t.shares = append(t.shares[:0], t.before...)
		t.stances[o] = t.stake(o)
		t.exchange()
		if t.sum(p) >= less {
			t.stances[o] = givenUp
			t.shares = append(t.shares[:0], t.without...)
		}
	}
}

// forget makes all orders of a product undecided.
func (t *tally) forget(p *instance.Product) {
	for _, line := range p.Lines {
		if o := t.in.Lines[line].Order; o != instance.None {
			t.stances[o] = undecided
		}
	}
}

// next returns the product's undecided order with least at stake, or None.
func (t *tally) next(p *instance.Product) int {
	next, least := instance.None, Money(0)
	for _, line := range p.Lines {
		l := &t.in.Lines[line]
		if l.Free || l.Order == instance.None || t.stances[l.Order] != undecided {
			continue
		}
		if stake := t.stake(l.Order); next == instance.None || stake < least {
			next, least = l.Order, stake
		}
	}
	return next
}

// stake returns what a late day of all of an order costs.
func (t *tally) stake(order int) (sum Money) {
	for _, line := range t.in.Orders[order].Lines {
		sum += Money(t.in.Lines[line].Quantity) * t.in.Lines[line].LatePrice
	}
	return sum
}

// sum returns what the shares of a product cost, where orders that ship complete
// wait for nothing else.
func (t *tally) sum(p *instance.Product) (sum Money) {
	for _, line := range p.Lines {
		if o := t.in.Lines[line].Order; o != instance.None {
			t.fates[o] = fate{}
		}
	}
	for i := range t.shares {
		s := &t.shares[i]
		o := t.in.Lines[s.Line].Order
		if o == instance.None {
			sum += Money(s.Sets) * OfSet(t.in, s.Line, s.Ship, s.Missing)
			continue
		}
		f := &t.fates[o]
		f.last, f.missing = max(f.last, s.Ship), f.missing || s.Missing
	}
	for _, line := range p.Lines {
		if o := t.in.Lines[line].Order; o != instance.None && !t.in.Lines[line].Free && !t.fates[o].counted {
			t.fates[o].counted = true
			sum += t.whole(o, t.fates[o].shipped)
		}
	}
	return sum
}

// whole returns what an order costs that ships at once, or not at all.
func (t *tally) whole(order int, at shipped) (sum Money) {
	for _, line := range t.in.Orders[order].Lines {
		l := &t.in.Lines[line]
		ship := at.last
		if at.missing {
			ship = t.in.Products[l.Product].Never
		}
		sum += Money(l.Quantity) * OfSet(t.in, line, ship, at.missing)
	}
	return sum
}

// enough notes how many sets of a product become good. Where an order comes to be
// hopeless by that, or to be so no more, its other products are counted anew.
func (b *Book) enough(product int, units []Units) {
	good := 0
	for i := range units {
		good += units[i].Sets
	}
	before := b.good[product]
	if good == before {
		return
	}
	for _, line := range b.in.Products[product].Lines {
		o := b.in.Lines[line].Order
		if o == instance.None {
			continue
		}
		b.good[product] = before
		was := b.hopeless(o)
		if b.good[product] = good; b.hopeless(o) == was {
			continue
		}
		for _, other := range b.in.Orders[o].Lines {
			if p := b.in.Lines[other].Product; p != product {
				b.Touch(p)
			}
		}
	}
	b.good[product] = good
}

// hopeless reports whether fewer sets of a product become good than an order alone
// asks for.
func (b *Book) hopeless(order int) bool {
	lines := b.in.Orders[order].Lines
	for i, line := range lines {
		product, need := b.in.Lines[line].Product, 0
		for _, other := range lines[i:] {
			if b.in.Lines[other].Product == product {
				need += b.in.Lines[other].Quantity
			}
		}
		if need > b.good[product] {
			return true
		}
	}
	return false
}

// giveUp gives up the hopeless orders of a product before its sets are allocated.
func (b *Book) giveUp(t *tally, product int) {
	for _, line := range b.in.Products[product].Lines {
		if o := b.in.Lines[line].Order; o != instance.None && b.hopeless(o) {
			t.stances[o] = givenUp
		}
	}
}
