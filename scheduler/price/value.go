package price

import "blankwright/scheduler/instance"

// A tariff is a price on the whole of each limit, by limit and day. Whatever the
// prices: what the sets cost with what they pay for their shares, less what all
// the room is worth, is no more than any plan costs. For no plan takes more than
// the room, and each of its sets costs at least the least that a set of its line
// can.
type tariff [][]int64

// A wish says which plans a value is asked of: all, or those in which no set is
// left out that can be made. Something may be given back for each that is.
type wish struct {
	made   []int   // by product: the sets that can be made; nil where it is all the same
	whole  bool    // none of them is left out
	credit []int64 // by product; may be nil
}

// A value is a lower bound by term, in the model's units, and what it rises by at
// least when a set is left out that could be made and that the choice makes.
type value struct {
	cost
	force int64
}

// A desk works out values. It keeps its memory between them.
type desk struct {
	m      *Model
	pay    [][]int64 // by limit, then day: what the whole pays when it is taken by then
	sets   [][]int64 // by product, then day: what a set pays that is good on it
	lines  []int     // by line of the model: the day chosen, or none
	orders []int     // by order of the model: the option chosen, or none
	cap    int64     // the most that one set counts, so that sums stay numbers
}

// none is chosen for what is left out.
const none = -1

// mostPaid is more than it ever pays to pay.
const mostPaid = int64(1) << (costBits + 2)

func newDesk(m *Model) *desk {
	d := &desk{m: m, lines: make([]int, len(m.lines)), orders: make([]int, len(m.orders))}
	for range m.rows {
		d.pay = append(d.pay, make([]int64, len(m.days)))
	}
	all := int64(1)
	for p := range m.products {
		d.sets = append(d.sets, make([]int64, len(m.days)))
		all += int64(m.in.Wanted(p))
	}
	d.cap = much / all
	return d
}

// value returns what a tariff proves. The late cost bears the payments.
func (d *desk) value(t tariff, w wish) (v value) {
	worth := d.payments(t)
	for p := range d.sets {
		d.price(p)
	}
	v.force = much
	for i := range d.m.lines {
		d.line(i, &w, &v)
	}
	for i := range d.m.orders {
		d.order(i, &w, &v)
	}
	v.late -= worth
	return v
}

// payments works out what the whole of each limit pays, and what all the room is
// worth.
func (d *desk) payments(t tariff) (worth int64) {
	for r, prices := range t {
		pay := d.pay[r]
		clear(pay)
		after := int64(0)
		for day := len(prices) - 1; day >= 0; day-- {
			pay[day] = min(mostPaid, after+prices[day])
			if paid := pay[day] - after; paid > 0 {
				worth = min(much, worth+times(d.m.rows[r].room[day], paid)+1)
			}
			after = pay[day]
		}
	}
	return worth
}

// price works out what a set of a product pays on each day.
func (d *desk) price(p int) {
	product := &d.m.products[p]
	for day := range d.sets[p] {
		sum := int64(much)
		if day >= product.first {
			sum = d.pays(product.uses, day)
			for i := range product.parts {
				sum = min(much, sum+d.part(&product.parts[i], day))
			}
		}
		d.sets[p][day] = sum
	}
}

func (d *desk) pays(uses []use, day int) (sum int64) {
	for _, u := range uses {
		sum = min(much, sum+times(u.share, d.pay[u.limit][day]))
	}
	return sum
}

// part returns the least that a part of a set pays on a day.
func (d *desk) part(p *part, day int) int64 {
	if day < p.first && day < p.since {
		return much
	}
	return d.pays(d.cheaper(p, day), day)
}

// cheaper returns what a part of a set takes that pays the least on a day.
func (d *desk) cheaper(p *part, day int) []use {
	if day < p.since || day >= p.first && d.pays(p.fresh, day) <= d.pays(p.standing, day) {
		return p.fresh
	}
	return p.standing
}

// line chooses the day of a line's sets.
func (d *desk) line(i int, w *wish, v *value) {
	l := &d.m.lines[i]
	best, day := d.cap, none
	for n, c := range l.on {
		if sum := c.sum() + d.sets[l.product][n]; sum < best {
			best, day = sum, n
		}
	}
	never := l.never
	if w.credit != nil {
		never -= w.credit[l.product]
	}
	all := w.all(d.m.in, l.product)
	if never < best && !(w.whole && all) {
		best, day = never, none
	}
	d.lines[i] = day
	v.left(w, l.product, all, never-best)
	hold := int64(0)
	if day != none {
		hold = l.on[day].hold
	}
	v.hold += l.sets * hold
	v.late += l.sets * (best - hold)
}

// all reports whether all that is wanted of a product can be made.
func (w *wish) all(in *instance.Instance, product int) bool {
	return w.made != nil && w.made[product] == in.Wanted(product)
}

// left lowers the force to what leaving out one set costs. Of a product of which
// not all can be made, something is left out anyway.
func (v *value) left(w *wish, product int, all bool, more int64) {
	switch {
	case all:
		v.force = min(v.force, max(0, more))
	case w.made != nil && w.made[product] > 0:
		v.force = 0
	}
}

// order chooses the date on which an order ships.
func (d *desk) order(i int, w *wish, v *value) {
	o := &d.m.orders[i]
	best, chosen := d.cap, none
	for n := range o.options {
		if sum := d.option(o, n); sum < best {
			best, chosen = sum, n
		}
	}
	never, must := o.never, w.whole
	for _, index := range o.lines {
		l := &d.m.in.Lines[index]
		if w.credit != nil {
			never -= w.credit[l.Product] * int64(l.Quantity)
		}
		must = must && w.all(d.m.in, l.Product)
	}
	if never < best && !must {
		best, chosen = never, none
	}
	d.orders[i] = chosen
	for _, index := range o.lines {
		l := &d.m.in.Lines[index]
		v.left(w, l.Product, w.all(d.m.in, l.Product), never-best)
	}
	hold := int64(0)
	if chosen != none {
		hold = o.options[chosen].cost.hold
	}
	v.hold += hold
	v.late += best - hold
}

// option returns what an order costs and pays on a date.
func (d *desk) option(o *order, n int) int64 {
	sum := o.options[n].cost.sum()
	for k, index := range o.lines {
		l := &d.m.in.Lines[index]
		sum = min(much, sum+timesSets(d.sets[l.Product][o.options[n].days[k]], int64(l.Quantity)))
	}
	return sum
}

// timesSets returns what so many sets pay, or much.
func timesSets(each, sets int64) int64 {
	if each > much/sets {
		return much
	}
	return each * sets
}
