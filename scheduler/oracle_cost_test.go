package scheduler_test

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A deal is how sets go to lines: by line, when each of its sets is done.
type deal [][]int

// value returns the least late and hold cost of pieces that are trimmed at some
// instants, by section. Where free, it is a lower bound for pieces that may be
// done later.
func (o *oracle) value(done [][]int, free bool) float64 {
	cost, _ := o.dealt(done, free)
	return cost
}

// dealt tries all ways to give sets to lines, as many as it likes (R13).
func (o *oracle) dealt(done [][]int, free bool) (best float64, how deal) {
	best = math.Inf(1)
	given := make(deal, len(o.s.Demand))
	var from func(p int)
	from = func(p int) {
		if p < len(o.s.Products) {
			o.give(p, o.sets(p, done), given, from)
			return
		}
		if cost := o.price(given, free); cost < best {
			best, how = cost, deal{}
			for _, list := range given {
				how = append(how, slices.Clone(list))
			}
		}
	}
	from(0)
	return best, how
}

// give gives the sets of a product to its lines in every way, of which one is to
// give no more.
func (o *oracle) give(p int, sets []int, given deal, next func(p int)) {
	next(p + 1)
	if len(sets) == 0 {
		return
	}
	for i, l := range o.s.Demand {
		if l.Product == o.s.Products[p].ID && len(given[i]) < l.Quantity {
			given[i] = append(given[i], sets[0])
			o.give(p, sets[1:], given, next)
			given[i] = given[i][:len(given[i])-1]
		}
	}
}

// sets returns when the sets of a product become good, of which no more count
// than its lines ask for.
func (o *oracle) sets(p int, done [][]int) []int {
	wanted := 0
	for _, l := range o.s.Demand {
		if l.Product == o.s.Products[p].ID {
			wanted += l.Quantity
		}
	}
	sets := make([]int, wanted)
	for i := range o.sections {
		if o.sections[i].product != p {
			continue
		}
		good := append(make([]int, o.s.Products[p].Stock), done[i]...)
		for _, in := range o.s.Incoming {
			if in.Section == o.sections[i].ID {
				at := max(0, int(in.At.Minute-o.s.Now.Minute))
				good = append(good, slices.Repeat([]int{at}, in.Pieces)...)
			}
		}
		slices.Sort(good)
		sets = sets[:min(len(sets), len(good))]
		for n := range sets {
			sets[n] = max(sets[n], good[n])
		}
	}
	return sets
}

// price returns what a deal costs (section 6 of the contract).
func (o *oracle) price(given deal, free bool) (sum float64) {
	last, short := map[string]shop.Date{}, map[string]bool{}
	for i, l := range o.s.Demand {
		if l.Complete && l.Order != "" {
			short[l.Order] = short[l.Order] || len(given[i]) < l.Quantity
			for _, at := range given[i] {
				last[l.Order] = max(last[l.Order], o.ship(l.Product, at))
			}
		}
	}
	for i := range o.s.Demand {
		l := &o.s.Demand[i]
		together := l.Complete && l.Order != ""
		for n := range l.Quantity {
			switch {
			case n >= len(given[i]) || together && short[l.Order]:
				sum += o.late(l, o.never(l.Product))
			case together && free:
				sum += o.late(l, last[l.Order])
			case together:
				sum += o.late(l, last[l.Order]) + o.hold(l, last[l.Order])
			default:
				sum += o.alone(l, given[i][n], free)
			}
		}
	}
	return sum
}

// alone returns what a set costs that ships as it is done; where free, that or
// later.
func (o *oracle) alone(l *shop.Line, at int, free bool) float64 {
	ship := o.ship(l.Product, at)
	least := o.late(l, ship) + o.hold(l, ship)
	for _, midnight := range o.dates {
		if free && midnight > at {
			ship = o.ship(l.Product, midnight)
			least = min(least, o.late(l, ship)+o.hold(l, ship))
		}
	}
	return least
}

func (o *oracle) late(l *shop.Line, ship shop.Date) float64 {
	return l.Weight * o.s.Policy.LateCost * float64(max(0, ship-l.Due))
}

func (o *oracle) hold(l *shop.Line, ship shop.Date) float64 {
	return o.s.Policy.HoldCost * float64(max(0, l.Due-ship))
}

// ship returns the ship date of a set of a product that is done at an instant.
func (o *oracle) ship(product string, at int) shop.Date {
	day := 0
	for day+1 < len(o.midnights) && o.midnights[day+1] <= at {
		day++
	}
	if at >= o.horizon {
		day++
	}
	return o.ships[product][day]
}

// never returns when a set that is left out counts as shipped.
func (o *oracle) never(product string) shop.Date {
	return o.ship(product, o.horizon) + shop.Date(o.s.Policy.UnplannedDays)
}

// write writes the plan of some times, for the checker to judge.
func (o *oracle) write(t *times) *plan.Plan {
	s := o.s
	at := func(minute int) shop.Instant { return shop.InstantIn(s.Now.Minute+int64(minute), s.Zone()) }
	p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now}
	name := func(load int) string { return string(rune('A' + load)) }
	for l, load := range t.loads {
		start := t.in[l] + s.Ovens[0].LoadMinutes
		p.Loads = append(p.Loads, shop.Load{
			ID: name(l), Oven: s.Ovens[0].ID, Profile: s.Profiles[load.profile].ID,
			In: at(t.in[l]), CureStart: at(start), CureEnd: at(start + load.cure), Out: at(t.out[l]),
			Racks: []shop.RackUse{{Rack: s.Racks[0].ID, Setup: load.setup.ID, Levels: load.levels}},
		})
	}
	for i := range t.tasks {
		task := &t.tasks[i]
		p.Tasks = append(p.Tasks, shop.Task{
			Load: name(task.load), Section: t.sections[task.section].ID, Stage: task.stage, Prepreg: task.prepreg, Position: 1,
			Pieces: task.pieces, Setup: task.setup, Start: at(task.start), End: at(t.end(task)),
		})
	}
	_, how := o.dealt(t.done(), false)
	for i, list := range how {
		for _, done := range list {
			p.Allocations = append(p.Allocations, plan.Allocation{Line: s.Demand[i].ID, Sets: 1, DoneAt: at(done)})
		}
	}
	slices.SortStableFunc(p.Tasks, func(a, b shop.Task) int { return cmp.Compare(a.Start.Minute, b.Start.Minute) })
	return p
}
