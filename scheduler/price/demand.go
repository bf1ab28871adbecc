package price

import (
	"math"
	"math/bits"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A cost is what late and early shipping cost, in the model's units.
type cost struct{ late, hold int64 }

func (c cost) sum() int64 { return c.late + c.hold }

// A line is a row of demand whose sets ship when each is good.
type line struct {
	index, product int
	sets           int64
	on             []cost // by day: what a set costs that is good on it
	never          int64  // what one costs that is left out
}

// An order is the lines that ship together, on one date for all.
type order struct {
	index   int
	lines   []int // of the instance
	options []option
	never   int64
}

// An option of an order is a ship date: what all sets cost then, and by line the
// last day on which its sets may be good.
type option struct {
	date shop.Date
	cost cost
	days []int
}

// costBits is how many bits the cost of a plan takes at most in a model.
const costBits = 50

// demand compiles the lines that are worth something, and the orders.
func (m *Model) demand() {
	worst := 0.0
	for i := range m.in.Lines {
		worst += m.worst(&m.in.Lines[i])
	}
	for m.shift = 0; worst/float64(uint64(1)<<m.shift) > 1<<costBits && m.shift < 63; m.shift++ {
	}
	for i := range m.in.Lines {
		if l := &m.in.Lines[i]; !l.Free && l.Order == instance.None {
			m.lines = append(m.lines, m.line(l))
		}
	}
	for o := range m.in.Orders {
		if !m.in.Lines[m.in.Orders[o].Lines[0]].Free {
			m.orders = append(m.orders, m.order(o))
		}
	}
}

// worst returns more than a line can cost.
func (m *Model) worst(l *instance.Line) float64 {
	p := &m.in.Products[l.Product]
	late := float64(max(0, p.Never-l.Due)) * float64(l.LatePrice)
	early := float64(max(0, l.Due-p.Ship[0])) * float64(m.in.HoldPrice)
	return float64((late + early + 1) * float64(l.Quantity))
}

// line compiles a line that ships set by set.
func (m *Model) line(l *instance.Line) line {
	p := &m.in.Products[l.Product]
	to := line{index: l.Index, product: l.Product, sets: int64(l.Quantity), never: m.down(m.costOf(l, p.Never).late)}
	for _, d := range m.days {
		least := m.costOf(l, p.Ship[d.number])
		for n := d.number + 1; n < d.until; n++ {
			if c := m.costOf(l, p.Ship[n]); c.sum() < least.sum() {
				least = c
			}
		}
		to.on = append(to.on, m.downBoth(least))
	}
	return to
}

// costOf returns what a set of a line costs that ships on a date, in the
// instance's money.
func (m *Model) costOf(l *instance.Line, ship shop.Date) cost {
	if ship > l.Due {
		return cost{late: instance.Money(ship-l.Due) * l.LatePrice}
	}
	return cost{hold: instance.Money(l.Due-ship) * m.in.HoldPrice}
}

// down and up turn money into the model's units.
func (m *Model) down(money int64) int64 { return money >> m.shift }

func (m *Model) up(money int64) int64 { return -(-money >> m.shift) }

func (m *Model) downBoth(c cost) cost { return cost{m.down(c.late), m.down(c.hold)} }

// order compiles an order. Its sets may be good on different days; all ship on the
// last of their ship dates.
func (m *Model) order(number int) order {
	to := order{index: number, lines: m.in.Orders[number].Lines}
	var dates []shop.Date
	for _, i := range to.lines {
		l := &m.in.Lines[i]
		p := &m.in.Products[l.Product]
		to.never += m.down(m.costOf(l, p.Never).late * int64(l.Quantity))
		for _, d := range m.days {
			dates = append(dates, p.Ship[d.number:d.until]...)
		}
	}
	slices.Sort(dates)
	for _, date := range slices.Compact(dates) {
		o, ok := m.option(to.lines, date)
		if !ok {
			continue
		}
		// Of dates with the same days, the cheapest is enough.
		if n := len(to.options); n > 0 && slices.Equal(to.options[n-1].days, o.days) {
			if o.cost.sum() < to.options[n-1].cost.sum() {
				to.options[n-1] = o
			}
			continue
		}
		to.options = append(to.options, o)
	}
	return to
}

// option returns what shipping on a date means for the lines of an order; false
// where they cannot ship by then.
func (m *Model) option(lines []int, date shop.Date) (o option, ok bool) {
	o.date = date
	for _, i := range lines {
		l := &m.in.Lines[i]
		last := none
		for d := range m.days {
			if m.in.Products[l.Product].Ship[m.days[d].number] <= date {
				last = d
			}
		}
		if last == none {
			return o, false
		}
		c := m.costOf(l, date)
		o.cost.late += m.down(c.late * int64(l.Quantity))
		o.cost.hold += m.down(c.hold * int64(l.Quantity))
		o.days = append(o.days, last)
	}
	return o, m.fits(lines, o.days)
}

// fits reports whether the lines of an order leave room when their sets are good by
// some days and nothing else is made. What stands there counts as plenty.
func (m *Model) fits(lines, days []int) bool {
	took, by := make([]int64, len(m.rows)), make([]int, len(m.rows))
	take := func(uses []use, day int, sets int64) {
		for _, u := range uses {
			took[u.limit] += u.share * sets // all that is wanted takes one
			by[u.limit] = max(by[u.limit], day)
		}
	}
	for k, i := range lines {
		p, sets := &m.products[m.in.Lines[i].Product], int64(m.in.Lines[i].Quantity)
		take(p.uses, days[k], sets)
		for _, part := range p.parts {
			if len(part.standing) == 0 && part.since == len(m.days) {
				take(part.fresh, days[k], sets)
			}
		}
	}
	for r := range took {
		if room := m.rows[r].room; by[r] < len(room) && took[r] > room[by[r]] {
			return false
		}
	}
	return true
}

// times returns what a share costs at a price: rounded down.
func times(share, price int64) int64 {
	high, low := bits.Mul64(uint64(share), uint64(price))
	return int64(high<<(64-shareBits) | low>>shareBits)
}

// much is more than any plan costs, and little enough to be added up.
const much = math.MaxInt64 / 8
