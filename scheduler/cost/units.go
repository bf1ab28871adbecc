package cost

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// A Trim is pieces of one section that are trimmed at an instant.
type Trim struct {
	Section int
	At      instance.Tick
	Pieces  int
}

// Units is some sets of a product that become good at one instant.
type Units struct {
	At   instance.Tick
	Sets int
}

// Sets returns the sets of a product that become good, in order of time, from
// its stock, what comes in, its released work and the given trims. limit is
// how many are wanted; what becomes good after that is left out.
func Sets(in *instance.Instance, product int, trims []Trim, limit int) []Units {
	return newTally(in).sets(product, trims, limit)
}

// A tally counts one product after the other, in memory that it keeps: what it
// returns stands until the next.
type tally struct {
	in      *instance.Instance
	events  []event
	counts  []count
	units   []Units
	shares  []Share
	places  []place
	paths   paths
	stances []Money // by order: what it presses for in the place of its lines' own, or undecided
	fates   []fate  // by order
	before  []Share // while an order is decided on
	without []Share
}

func newTally(in *instance.Instance) *tally {
	t := &tally{in: in, stances: make([]Money, len(in.Orders)), fates: make([]fate, len(in.Orders))}
	for o := range t.stances {
		t.stances[o] = undecided
	}
	return t
}

// sets is Sets.
func (t *tally) sets(product int, trims []Trim, limit int) []Units {
	p := &t.in.Products[product]
	t.gather(p, trims)
	slices.SortStableFunc(t.events, func(x, y event) int { return cmp.Compare(x.At, y.At) })
	t.counts = append(t.counts[:0], make([]count, len(p.Sections))...)
	t.units = t.units[:0]
	given, at := 0, instance.Tick(0)
	for i := 0; given < limit; at = t.events[i].At {
		for ; i < len(t.events) && t.events[i].At <= at; i++ {
			t.counts[t.events[i].slot].add(&t.events[i])
		}
		if n := min(p.Stock+least(t.in, p, t.counts), limit) - given; n > 0 {
			t.units = append(t.units, Units{at, n})
			given += n
		}
		if i == len(t.events) {
			break
		}
	}
	return t.units
}

// A count is the pieces of one section so far.
type count struct{ incoming, trimmed int }

func (c *count) add(e *event) {
	if e.incoming {
		c.incoming += e.Pieces
	} else {
		c.trimmed += e.Pieces
	}
}

// least returns the least good pieces over a product's sections.
func least(in *instance.Instance, p *instance.Product, counts []count) int {
	low := -1
	for slot, section := range p.Sections {
		good := counts[slot].incoming + instance.Yielded(in.Sections[section].Yield, counts[slot].trimmed)
		if low < 0 || good < low {
			low = good
		}
	}
	return low
}

// An event is pieces of a product's slot-th section that come in or are
// trimmed.
type event struct {
	Trim
	slot     int
	incoming bool
}

func (t *tally) gather(p *instance.Product, trims []Trim) {
	t.events = t.events[:0]
	for slot, section := range p.Sections {
		s := &t.in.Sections[section]
		for _, g := range s.Incoming {
			t.events = append(t.events, event{Trim{section, g.At, g.Pieces}, slot, true})
		}
		for _, g := range s.Trimmed {
			t.events = append(t.events, event{Trim{section, g.At, g.Pieces}, slot, false})
		}
	}
	first := p.Sections[0]
	for _, trim := range trims {
		t.events = append(t.events, event{trim, trim.Section - first, false})
	}
}

// A Share is sets of one line that become good at one instant, or, where
// Missing, that the plan does not make.
type Share struct {
	Line    int
	Sets    int
	At      instance.Tick
	Ship    shop.Date
	Missing bool
}

// OfSet returns what a set of a line costs that ships on a date; what is missing
// is never early.
func OfSet(in *instance.Instance, line int, ship shop.Date, missing bool) Money {
	l := &in.Lines[line]
	if ship > l.Due {
		return Money(ship-l.Due) * l.LatePrice
	}
	if missing {
		return 0
	}
	return Money(l.Due-ship) * in.HoldPrice
}

// Allocate gives a product's units to its lines: those due first get the first,
// unless an exchange is cheaper. What no unit is left for is missing; an order that
// ships complete has all of its sets, or gives way to the other lines. Lines that
// cost nothing when left out get nothing.
func Allocate(in *instance.Instance, product int, units []Units) []Share {
	return newTally(in).allocate(product, units)
}

// allocate is Allocate.
func (t *tally) allocate(product int, units []Units) []Share {
	p := &t.in.Products[product]
	t.shares = t.shares[:0]
	u, used := 0, 0
	late := false
	for _, line := range p.Lines {
		if t.in.Lines[line].Free {
			continue
		}
		for need := t.in.Lines[line].Quantity; need > 0; {
			share := Share{Line: line, Sets: need, Ship: p.Never, Missing: true, At: instance.Never}
			if u < len(units) {
				share = Share{Line: line, Sets: min(need, units[u].Sets-used), At: units[u].At}
				share.Ship = p.Ship[t.in.Day(share.At)]
				if used += share.Sets; used == units[u].Sets {
					u, used = u+1, 0
				}
			}
			late = late || share.Ship > t.in.Lines[line].Claim
			t.shares = append(t.shares, share)
			need -= share.Sets
		}
	}
	if late {
		t.exchange()
		t.decide(p)
	}
	t.forget(p)
	return t.shares
}
