package binding

import (
	"fmt"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A fate is what becomes of one line.
type fate struct {
	line    *instance.Line
	planned []cost.Share
	missing int           // sets that are in no load
	last    instance.Tick // when its last planned set is good
	ready   shop.Date     // when that could ship; 0 where nothing is planned

	// What the line counts as, its order's other lines considered.
	lateSets, outSets int
	ship              shop.Date // 0 where it ships nothing
	cost              instance.Money
}

// fatesOf returns the fate of every line.
func fatesOf(a *answer.Answer) []*fate {
	fates := make([]*fate, len(a.In.Lines))
	for i := range fates {
		fates[i] = &fate{line: &a.In.Lines[i], last: instance.None}
	}
	for p := range a.In.Products {
		for _, s := range a.Shares(p) {
			fates[s.Line].take(s)
		}
	}
	for _, f := range fates {
		if f.line.Free {
			f.outSets = f.line.Quantity
			continue
		}
		if f.line.Order == instance.None {
			f.alone(a.In)
		}
	}
	for o := range a.In.Orders {
		together(a.In, fates, a.In.Orders[o].Lines)
	}
	return fates
}

func (f *fate) take(s cost.Share) {
	if s.Missing {
		f.missing += s.Sets
		return
	}
	f.planned = append(f.planned, s)
	f.last, f.ready = max(f.last, s.At), max(f.ready, s.Ship)
}

// alone settles a line whose sets ship as they are ready.
func (f *fate) alone(in *instance.Instance) {
	f.outSets, f.ship = f.missing, f.ready
	f.cost = f.price(in.Products[f.line.Product].Never, f.missing)
	for _, s := range f.planned {
		if s.Ship > f.line.Due {
			f.lateSets += s.Sets
			f.cost += f.price(s.Ship, s.Sets)
		}
	}
}

// together settles the lines of a complete order.
func together(in *instance.Instance, fates []*fate, lines []int) {
	last, missing := shop.Date(0), false
	for _, l := range lines {
		last, missing = max(last, fates[l].ready), missing || fates[l].missing > 0
	}
	for _, l := range lines {
		f := fates[l]
		switch {
		case f.line.Free:
		case missing:
			f.outSets, f.cost = f.line.Quantity, f.price(in.Products[f.line.Product].Never, f.line.Quantity)
		default:
			f.ship = last
			if last > f.line.Due {
				f.lateSets, f.cost = f.line.Quantity, f.price(last, f.line.Quantity)
			}
		}
	}
}

// price returns what so many sets cost that ship on a date.
func (f *fate) price(ship shop.Date, sets int) instance.Money {
	return instance.Money(sets) * f.line.LatePrice * instance.Money(max(0, ship-f.line.Due))
}

// waitsFor returns the line of its order for which a line waits, nil where it
// waits for none but itself: the one that is ready last, of several that whose
// pieces take longest.
func (r *reporter) waitsFor(f *fate) *fate {
	if f.line.Order == instance.None || f.missing > 0 {
		return nil
	}
	last := f
	for _, l := range r.in.Orders[f.line.Order].Lines {
		other := r.fates[l]
		if other.missing > 0 {
			return other
		}
		if other.ready > last.ready || other.ready == last.ready && r.soonest(other) > r.soonest(last) {
			last = other
		}
	}
	if last == f {
		return nil
	}
	return last
}

// tell starts the report of a line.
func (f *fate) tell(in *instance.Instance) Line {
	row := &in.Shop.Demand[f.line.Index]
	l := Line{
		Line: row.ID, Order: row.Order, Product: row.Product, Quantity: row.Quantity, Due: row.Due,
		LateSets: f.lateSets, UnallocatedSets: f.outSets, Cost: in.Price(f.cost),
	}
	if f.ship != 0 {
		ship := f.ship
		l.Ship, l.DaysLate = &ship, max(0, int(ship-row.Due))
	}
	return l
}

// notNeeded tells why a line is left for a later plan.
func (r *reporter) notNeeded(f *fate) Cause {
	never := r.in.Products[f.line.Product].Never
	what := fmt.Sprintf("not needed within this horizon: it is due on %s, and what is left out counts as shipped on %s", f.line.Due, never)
	if f.line.LatePrice == 0 {
		what = "not needed within this horizon: being late costs this line nothing"
	}
	return Cause{Kind: Time, What: what, How: "Left for a later plan, it costs nothing."}
}

// together tells for which line of its order a line waits.
func (r *reporter) together(f, other *fate) Cause {
	row := &r.in.Shop.Demand[other.line.Index]
	what := fmt.Sprintf("its own sets are ready to ship on %s, but its order ships complete, and %d × %s of line %s ",
		f.ready, row.Quantity, row.Product, row.ID)
	if other.missing > 0 {
		what += fmt.Sprintf("lack %s", counted(other.missing, "set"))
	} else {
		what += fmt.Sprintf("are ready only on %s", other.ready)
	}
	return Cause{Kind: Order, ID: row.ID, What: what + ".", How: "The lines of an order that ships complete ship on the latest of their dates, or count as not planned."}
}
