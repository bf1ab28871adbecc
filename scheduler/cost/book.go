package cost

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
)

// A Book is the late and hold cost of an answer, by product and by order. It counts
// when it is asked: who places load after load need not wait for it.
type Book struct {
	in       *instance.Instance
	loads    [][]*line.Load // by product
	products []terms
	orders   []terms
	lines    []shipped // of lines that ship complete
	good     []int     // by product: sets that become good, of those that are asked for
	wanted   []int
	sum      terms
	dirty    []int
	isDirty  []bool
	changed  bool   // since the last Keep or Undo
	stale    bool   // what Undo goes back to is not counted yet
	stirred  []bool // orders with a line of a dirty product, while that is counted
	saved    []savedProduct
	savedOf  []savedOrder
	savedBy  []shipped // of the lines of saved products, product after product
	savedSum terms
	trims    []Trim // scratch
	tally    *tally
}

// terms are the two terms of the cost that a Book counts.
type terms struct{ late, hold Money }

// A shipped is when the last set of a line ships, and whether any is missing.
type shipped struct {
	last    shop.Date
	missing bool
}

type savedProduct struct {
	product int
	good    int
	terms   terms
}

type savedOrder struct {
	order int
	terms terms
}

// NewBook returns the book of an answer without loads.
func NewBook(in *instance.Instance) *Book {
	b := &Book{
		in: in, loads: make([][]*line.Load, len(in.Products)), products: make([]terms, len(in.Products)),
		orders: make([]terms, len(in.Orders)), lines: make([]shipped, len(in.Lines)), good: make([]int, len(in.Products)), isDirty: make([]bool, len(in.Products)),
		stirred: make([]bool, len(in.Orders)), tally: newTally(in),
	}
	for p := range in.Products {
		b.wanted = append(b.wanted, in.Wanted(p))
		b.Touch(p)
	}
	b.Keep()
	return b
}

// Late returns what late sets cost.
func (b *Book) Late() Money {
	b.settle()
	return b.sum.late
}

// Hold returns what early sets cost.
func (b *Book) Hold() Money {
	b.settle()
	return b.sum.hold
}

// Add counts a placed load in.
func (b *Book) Add(l *line.Load) {
	for _, p := range b.productsOf(l) {
		b.loads[p] = append(b.loads[p], l)
		b.Touch(p)
	}
}

// Drop counts a load out.
func (b *Book) Drop(l *line.Load) {
	for _, p := range b.productsOf(l) {
		list := b.loads[p]
		for i := range list {
			if list[i] == l {
				list[i] = list[len(list)-1]
				b.loads[p] = list[:len(list)-1]
				break
			}
		}
		b.Touch(p)
	}
}

// productsOf returns the products whose sections a load carries, each once.
func (b *Book) productsOf(l *line.Load) []int {
	var room [32]int
	products := room[:0]
	for _, r := range l.Runs {
		p := b.in.Sections[r.Section].Product
		known := false
		for _, q := range products {
			known = known || p == q
		}
		if !known {
			products = append(products, p)
		}
	}
	return products
}

// Touch has a product counted anew before the next answer.
func (b *Book) Touch(product int) {
	b.changed = true
	if !b.isDirty[product] {
		b.isDirty[product] = true
		b.dirty = append(b.dirty, product)
	}
}

// settle counts anew what has changed since the last time. Without a pending change,
// what it counts is what Undo goes back to.
func (b *Book) settle() {
	if len(b.dirty) == 0 {
		return
	}
	if len(b.saved) == 0 && len(b.savedOf) == 0 {
		b.savedSum = b.sum
	}
	was := b.changed
	for i := 0; i < len(b.dirty); i++ { // a product may touch others
		p := b.dirty[i]
		b.isDirty[p] = false
		b.product(p)
	}
	for _, p := range b.dirty {
		for _, l := range b.in.Products[p].Lines {
			if o := b.in.Lines[l].Order; o != instance.None && !b.stirred[o] {
				b.stirred[o] = true
				b.order(o)
			}
		}
	}
	for _, s := range b.savedOf {
		b.stirred[s.order] = false
	}
	b.dirty = b.dirty[:0]
	if !was {
		b.Keep()
	}
}

func (b *Book) product(p int) {
	b.saved = append(b.saved, savedProduct{product: p, good: b.good[p], terms: b.products[p]})
	for _, l := range b.in.Products[p].Lines {
		b.savedBy = append(b.savedBy, b.lines[l])
		b.lines[l] = shipped{}
	}
	b.sum.late -= b.products[p].late
	b.sum.hold -= b.products[p].hold
	units := b.units(p)
	b.enough(p, units)
	b.giveUp(b.tally, p)
	b.products[p] = b.count(b.tally.allocate(p, byShip(b.in, p, units)))
	b.sum.late += b.products[p].late
	b.sum.hold += b.products[p].hold
}

// Shares returns how the sets of a product go to its lines, each with the
// instant at which they are good.
func (b *Book) Shares(product int) (shares []Share) {
	b.settle()
	units := slices.Clone(b.units(product))
	u := 0
	for _, group := range byDate(b.allocated(product, slices.Clone(units))) {
		for left := group.Sets; left > 0; {
			share := group
			share.Sets = left
			if !group.Missing {
				share.Sets, share.At = min(left, units[u].Sets), units[u].At
				if units[u].Sets -= share.Sets; units[u].Sets == 0 {
					u++
				}
			}
			left -= share.Sets
			shares = append(shares, share)
		}
	}
	return shares
}

// allocated returns what allocate makes of a product's units, in memory of its own.
func (b *Book) allocated(product int, units []Units) []Share {
	t := newTally(b.in)
	b.giveUp(t, product)
	return t.allocate(product, byShip(b.in, product, units))
}

// byDate sorts shares by their ship date, what is missing last.
func byDate(shares []Share) []Share {
	slices.SortStableFunc(shares, func(x, y Share) int {
		if x.Missing != y.Missing {
			return cmp.Compare(x.At, y.At)
		}
		return cmp.Compare(x.Ship, y.Ship)
	})
	return shares
}

// units returns the sets of a product that become good, until those of the next
// are asked for.
func (b *Book) units(product int) []Units {
	b.trims = b.trims[:0]
	for _, l := range b.loads[product] {
		b.trims = Trims(b.in, l, product, b.trims)
	}
	return b.tally.sets(product, b.trims, b.wanted[product])
}

// byShip puts together what ships on one date: to the cost it is all one, and
// there is much less of it.
func byShip(in *instance.Instance, product int, units []Units) []Units {
	ship := in.Products[product].Ship
	out := units[:0]
	for _, u := range units {
		if n := len(out); n > 0 && ship[in.Day(out[n-1].At)] == ship[in.Day(u.At)] {
			out[n-1].Sets += u.Sets
			continue
		}
		out = append(out, u)
	}
	return out
}

// Trims appends the trims of a product's sections in a load.
func Trims(in *instance.Instance, l *line.Load, product int, trims []Trim) []Trim {
	done := l.Trims()
	for i := range done {
		if t := &done[i]; in.Sections[t.Section].Product == product {
			trims = append(trims, Trim{t.Section, t.End, t.Pieces})
		}
	}
	return trims
}

// count sums the cost of the lines that ship as they are ready, and notes when
// the others would.
func (b *Book) count(shares []Share) (sum terms) {
	for i := range shares {
		s := &shares[i]
		l := &b.in.Lines[s.Line]
		if l.Order != instance.None {
			b.lines[s.Line].last = max(b.lines[s.Line].last, s.Ship)
			b.lines[s.Line].missing = b.lines[s.Line].missing || s.Missing
			continue
		}
		b.add(&sum, s.Line, s.Ship, s.Sets, s.Missing)
	}
	return sum
}

func (b *Book) add(sum *terms, line int, ship shop.Date, sets int, missing bool) {
	c := Money(sets) * OfSet(b.in, line, ship, missing)
	if ship > b.in.Lines[line].Due {
		sum.late += c
	} else {
		sum.hold += c
	}
}

// order counts an order whose lines ship together, on the latest of their
// dates, or as left out where any set of them is.
func (b *Book) order(o int) {
	b.savedOf = append(b.savedOf, savedOrder{o, b.orders[o]})
	last, missing := shop.Date(0), false
	for _, l := range b.in.Orders[o].Lines {
		last = max(last, b.lines[l].last)
		missing = missing || b.lines[l].missing || b.in.Lines[l].Free // a free line gets nothing
	}
	var sum terms
	for _, l := range b.in.Orders[o].Lines {
		ship := last
		if missing {
			ship = b.in.Products[b.in.Lines[l].Product].Never
		}
		b.add(&sum, l, ship, b.in.Lines[l].Quantity, missing)
	}
	b.sum.late += sum.late - b.orders[o].late
	b.sum.hold += sum.hold - b.orders[o].hold
	b.orders[o] = sum
}

// Keep makes what has changed stand, whether it is counted yet or not.
func (b *Book) Keep() {
	b.stale, b.changed = len(b.dirty) > 0, false
	b.saved, b.savedOf, b.savedBy = b.saved[:0], b.savedOf[:0], b.savedBy[:0]
}

// Undo goes back to the last Keep. The caller has added and dropped loads back
// to what they were.
func (b *Book) Undo() {
	if len(b.saved) > 0 || len(b.savedOf) > 0 {
		b.sum = b.savedSum
	}
	for i := len(b.saved) - 1; i >= 0; i-- {
		s := &b.saved[i]
		b.products[s.product], b.good[s.product] = s.terms, s.good
		lines := b.in.Products[s.product].Lines
		first := len(b.savedBy) - len(lines)
		for j, l := range lines {
			b.lines[l] = b.savedBy[first+j]
		}
		b.savedBy = b.savedBy[:first]
	}
	for i := len(b.savedOf) - 1; i >= 0; i-- {
		b.orders[b.savedOf[i].order] = b.savedOf[i].terms
	}
	if b.stale { // what it goes back to is not counted either
		for i := range b.saved {
			b.Touch(b.saved[i].product)
		}
	} else {
		b.clean()
	}
	b.Keep()
}

// clean says that all products are counted as they stand.
func (b *Book) clean() {
	for _, p := range b.dirty {
		b.isDirty[p] = false
	}
	b.dirty = b.dirty[:0]
}

// LateOf returns what the late sets of a product cost, with the whole of each
// order that waits for it.
func (b *Book) LateOf(product int) Money {
	b.settle()
	sum := b.products[product].late
	for _, l := range b.in.Products[product].Lines {
		if o := b.in.Lines[l].Order; o != instance.None {
			sum += b.orders[o].late
		}
	}
	return sum
}

// LoadsOf returns the loads that carry a product. The caller does not change
// them.
func (b *Book) LoadsOf(product int) []*line.Load { return b.loads[product] }
