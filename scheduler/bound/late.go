package bound

import (
	"sort"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A lateBound is a lower bound of the late cost, in two cases: all that is
// wanted is made, or something is left out. In the second, what is left out is
// credited with what its ovens would have cost.
type lateBound struct{ all, some Money }

// late bounds the late cost by mandrel type. Pieces of one type come off its
// mandrels at most as fast as these go round when nothing else is in their way;
// a transport gives them to the lines at the least cost. A product counts at
// the one type of its sections that is needed most, a piece of it with its
// share of the set's price: no set is done before its last piece.
func late(in *instance.Instance, credit []Money) (sum lateBound) {
	byType := make([][]int, len(in.Mandrels))
	for p := range in.Products {
		if m := busiest(in, p); in.Wanted(p) > 0 {
			byType[m] = append(byType[m], p)
		}
	}
	least := forbidden
	for m, products := range byType {
		if len(products) > 0 {
			all, some, force := lateOfType(in, m, products, credit)
			sum.all += all
			sum.some += some
			least = min(least, force)
		}
	}
	if least == forbidden {
		least = 0
	}
	sum.some += least
	return sum
}

// busiest returns the mandrel type of a product that must go round most often.
func busiest(in *instance.Instance, product int) int {
	best := in.Sections[in.Products[product].Sections[0]].Mandrel
	for _, s := range in.Products[product].Sections {
		if m := in.Sections[s].Mandrel; in.Mandrels[m].Turns > in.Mandrels[best].Turns {
			best = m
		}
	}
	return best
}

// lateOfType returns the bounds of one type's products: with everything made,
// with leaving out allowed, and how much more it costs at least to leave
// something out.
func lateOfType(in *instance.Instance, m int, products []int, credit []Money) (all, some, force Money) {
	b := &lateTransport{in: in, mandrel: m, tr: &transport{}}
	for _, p := range products {
		b.addLines(p)
	}
	b.addRounds(products)
	for _, p := range products {
		b.addStanding(p)
	}
	all = b.solved(nil)
	some = b.solved(credit)
	return all, some, b.force()
}

// A lateTransport is the transport of one mandrel type.
type lateTransport struct {
	in      *instance.Instance
	mandrel int
	tr      *transport
	lines   []int // by sink
	first   []int // by sink: the first day on which its product can be done
	each    []int // by sink: pieces of this type in a set
	shift   []Money
	last    *shipment
}

func (b *lateTransport) addLines(product int) {
	pieces := 0
	first := 0
	for _, s := range b.in.Products[product].Sections {
		if b.in.Sections[s].Mandrel == b.mandrel {
			pieces++
		}
		// Sets that find pieces under way need no new one.
		if b.in.Standing(s) == b.in.Products[product].Stock {
			first = max(first, firstDay(b.in, s))
		}
	}
	for _, l := range b.in.Products[product].Lines {
		if line := &b.in.Lines[l]; !line.Free {
			b.lines, b.first, b.each = append(b.lines, l), append(b.first, first), append(b.each, pieces)
			b.tr.demand = append(b.tr.demand, pieces*line.Quantity)
		}
	}
}

// addRounds adds a source for each day on which mandrels can give off pieces:
// every mandrel goes round as fast as the quickest of the sections allows.
func (b *lateTransport) addRounds(products []int) {
	need := 0
	for _, d := range b.tr.demand {
		need += d
	}
	perDay := map[int]int{}
	pool := &b.in.Mandrels[b.mandrel]
	before := 0
	for i, count := range pool.Count {
		at := pool.From[i]
		for given := 0; given < need && count > before; given += count - before {
			done, back := b.round(products, at)
			if done >= instance.Never {
				break
			}
			perDay[b.in.Day(done)] += count - before
			at = max(back, at+1)
		}
		before = count
	}
	days := make([]int, 0, len(perDay))
	for d := range perDay {
		days = append(days, d)
	}
	sort.Ints(days)
	for _, d := range days {
		b.addSource(min(perDay[d], need), func(sink int) Money {
			done := max(d, b.first[sink])
			if done >= noDay {
				return forbidden
			}
			line := &b.in.Lines[b.lines[sink]]
			return b.price(sink, b.in.Products[line.Product].Ship[done])
		})
	}
}

// round returns when a mandrel that is free at an instant can have made a piece
// at the earliest, and be free again.
func (b *lateTransport) round(products []int, at instance.Tick) (done, back instance.Tick) {
	done, back = instance.Never, instance.Never
	for _, p := range products {
		for _, s := range b.in.Products[p].Sections {
			if b.in.Sections[s].Mandrel == b.mandrel {
				q := alone.Quickest(b.in, s, at)
				done, back = min(done, q.Trimmed()), min(back, q.Back)
			}
		}
	}
	return done, back
}

// addStanding adds a source for the pieces of a product that need no new load.
func (b *lateTransport) addStanding(product int) {
	p := &b.in.Products[product]
	for _, s := range p.Sections {
		if b.in.Sections[s].Mandrel == b.mandrel {
			b.addSource(b.in.Standing(s), func(sink int) Money {
				if b.in.Lines[b.lines[sink]].Product != product {
					return forbidden
				}
				return b.price(sink, p.Ship[0])
			})
		}
	}
}

func (b *lateTransport) addSource(supply int, price func(sink int) Money) {
	row := make([]Money, len(b.lines))
	for j := range row {
		row[j] = price(j)
	}
	b.tr.supply, b.tr.price = append(b.tr.supply, supply), append(b.tr.price, row)
}

// price returns what a piece of a line costs that ships on a date: its share of
// the set's price, rounded down.
func (b *lateTransport) price(sink int, ship shop.Date) Money {
	line := &b.in.Lines[b.lines[sink]]
	return Money(max(0, ship-line.Due)) * line.LatePrice / Money(b.each[sink])
}

// solved returns the optimum with a last source for what is left out: at its
// price less the credit, or, without credits, only where nothing else serves.
func (b *lateTransport) solved(credit []Money) Money {
	total := 0
	for _, d := range b.tr.demand {
		total += d
	}
	n := len(b.tr.supply)
	b.shift = make([]Money, len(b.lines))
	b.addSource(total, func(sink int) Money {
		p := b.in.Lines[b.lines[sink]].Product
		out := b.price(sink, b.in.Products[p].Never)
		if credit != nil {
			out -= credit[p]/Money(b.each[sink]) + 1
			b.shift[sink] = max(0, -out)
		}
		return out
	})
	for i := range b.tr.price {
		for j := range b.lines {
			if b.tr.price[i][j] != forbidden {
				b.tr.price[i][j] += b.shift[j]
			}
		}
	}
	b.last = b.tr.solve()
	cost := b.last.cost
	for j, d := range b.tr.demand {
		cost -= b.shift[j] * Money(d)
	}
	for i := range b.tr.price {
		for j := range b.lines {
			if b.tr.price[i][j] != forbidden {
				b.tr.price[i][j] -= b.shift[j]
			}
		}
	}
	if credit == nil {
		b.tr.supply, b.tr.price = b.tr.supply[:n], b.tr.price[:n]
	}
	return cost
}

// force returns how much the optimum with credits rises at least when something
// is left out that it does not leave out itself.
func (b *lateTransport) force() Money {
	least := forbidden
	out := len(b.tr.supply) - 1
	for j := range b.lines {
		if b.first[j] == noDay {
			continue // it is left out in any case
		}
		if b.last.flow[out][j] > 0 {
			return 0
		}
		reduced := b.tr.price[out][j] + b.shift[j] + b.last.source[out] - b.last.sink[j]
		least = min(least, reduced)
	}
	return max(0, least)
}
