package bound

import "blankwright/scheduler/instance"

// A makeBound is a lower bound of what it costs to make all that is wanted, and
// what that would fall by at most for sets that are not made, said in two ways:
// by share for each set of a product and by slack once, or by whole for each set.
type makeBound struct {
	cost  Money
	slack Money
	share []Money
	whole []Money
	worth []Money // by section: of a piece, where that is what the cost is made of
}

func newMakeBound(in *instance.Instance) makeBound {
	return makeBound{share: make([]Money, len(in.Products)), whole: make([]Money, len(in.Products))}
}

// add adds so many pieces of a section at so much each.
func (b *makeBound) add(in *instance.Instance, section, pieces int, each Money) {
	product, set := in.Sections[section].Product, Money(perSet(in, section))*each
	b.cost += Money(pieces) * each
	b.share[product] += set
	b.whole[product] += set
}

// credit adds what a set of a product takes of things at a price: part of a whole.
func (b *makeBound) credit(product int, price Money, part, whole int) {
	b.share[product] = plus(b.share[product], share(price, part, whole))
	b.whole[product] = plus(b.whole[product], share(price, (part+whole-1)/whole, 1))
}

// and adds another bound.
func (b *makeBound) and(c *makeBound) {
	b.cost, b.slack = b.cost+c.cost, b.slack+c.slack
	for p := range b.share {
		b.share[p] += c.share[p]
		b.whole[p] += c.whole[p]
	}
}

// credits returns what the cost falls by at most for a set of each product, and
// once, in either way. It cannot fall by more than all of it.
func (b *makeBound) credits(whole bool) (each []Money, once Money) {
	each, once = b.share, min(b.slack, b.cost)
	if whole {
		each, once = b.whole, 0
	}
	for p := range each {
		each[p] = min(each[p], b.cost)
	}
	return each, once
}

// perSet returns how many pieces of a section a set can save at most when it is
// not made.
func perSet(in *instance.Instance, section int) int {
	if yield := in.Sections[section].Yield; yield < 1 {
		return int(1/yield) + 1
	}
	return 1
}
