package price

import (
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// Prices are what a shop's limits are worth.
type Prices struct {
	model *Model
	desk  *desk
	best  tariff
	mean  *flow
}

// Of returns the prices that prove most of what late and early sets cost.
func Of(in *instance.Instance) *Prices {
	m := newModel(in)
	a := newAscent(m)
	a.climb(m.tries())
	return &Prices{model: m, desk: a.desk, best: a.best, mean: a.flow}
}

// Effort bounds how long prices are looked for: so many tries at most, and fewer
// where each is more work.
const (
	mostTries = 600
	work      = 60_000_000
)

// tries returns how often prices are tried.
func (m *Model) tries() int {
	each := 1
	for p := range m.products {
		uses := len(m.products[p].uses)
		for _, part := range m.products[p].parts {
			uses += len(part.fresh) + len(part.standing)
		}
		each += uses * len(m.days)
	}
	for _, l := range m.lines {
		each += len(l.on)
	}
	for _, o := range m.orders {
		each += len(o.options) * len(o.lines)
	}
	for _, r := range m.rows {
		each += 4 * len(r.room)
	}
	return min(mostTries, work/each)
}

// A Least is the least that late and early sets cost. Late bears what is not known
// to be of the one or the other, and may be below 0 in a case that no plan is in.
type Least struct{ Late, Hold Money }

// Sum returns both together.
func (l Least) Sum() Money { return l.Late + l.Hold }

// Made returns the least that late and early sets cost when all sets are made that
// can be; made says how many these are, by product.
func (p *Prices) Made(made []int) Least {
	return p.least(p.desk.value(p.best, wish{made: made, whole: true}).cost)
}

// LeftOut returns the least that they cost when at least one of these sets is left
// out, and each that is brings a credit, by product. A line is left out too when
// sets of its product go to lines that are worth nothing.
func (p *Prices) LeftOut(made []int, credit []Money) Least {
	w := wish{made: made, credit: make([]int64, len(credit))}
	anyway := int64(0)
	for i, c := range credit {
		w.credit[i] = p.model.up(c)
		anyway += w.credit[i] * int64(p.model.in.Wanted(i)-made[i]) // is left out, and no credit given
	}
	v := p.desk.value(p.best, w)
	v.late += v.force + anyway
	return p.least(v.cost)
}

// least turns a cost into money. That of a case that no plan is in may be without
// end.
func (p *Prices) least(c cost) Least {
	money := func(units int64) Money { return min(units, much>>p.model.shift) << p.model.shift }
	return Least{money(c.late), money(c.hold)}
}

// A Part is a part of a line's sets that ships on a date.
type Part struct {
	Ship shop.Date
	Of   float64
}

// Ships returns when the sets of a line would ship, the first date first, if sets
// could be divided at will and the limits were all that holds them back. What is
// missing of 1 is left out. It is the mean of what prices have led to, and comes
// near to the best there is.
func (p *Prices) Ships(line int) (parts []Part) {
	m := p.model
	for i, l := range m.lines {
		if l.index == line {
			for day, of := range p.mean.lines[i] {
				parts = withPart(parts, m.in.Products[l.product].Ship[m.days[day].number], of)
			}
		}
	}
	for i, o := range m.orders {
		if slices.Contains(o.lines, line) {
			for n, of := range p.mean.orders[i] {
				parts = withPart(parts, o.options[n].date, of)
			}
		}
	}
	return parts
}

// withPart adds a part to those before it, unless it is next to nothing.
func withPart(parts []Part, date shop.Date, of float64) []Part {
	if n := len(parts); n > 0 && parts[n-1].Ship == date {
		parts[n-1].Of += of
		return parts
	}
	if of < leastPart {
		return parts
	}
	return append(parts, Part{date, of})
}

const leastPart = 1e-3

// A Worth is what a limit is worth: by day, counted from today, what one more of it
// by the end of that day would save. Days without worth are left out.
type Worth struct {
	Kind, ID string // as of a Limit
	On       []DayWorth
}

// A DayWorth is what one more of a limit saves by the end of a day, in the shop's
// money: a minute of a station or a crew, a peg, a square metre, a piece or a set.
type DayWorth struct {
	Day  int
	Each float64
}

// Worths returns the limits that are worth something.
func (p *Prices) Worths() (list []Worth) {
	m := p.model
	for r, prices := range p.best {
		w := Worth{Kind: m.limits[r].Kind, ID: m.limits[r].ID}
		for day, price := range prices {
			if price > 0 {
				w.On = append(w.On, DayWorth{m.days[day].number, m.in.Price(price<<m.shift) / m.rows[r].all})
			}
		}
		if len(w.On) > 0 {
			list = append(list, w)
		}
	}
	return list
}
