package scheduler_test

import (
	"math"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// An oracle finds the cheapest plan of a tiny shop by trying everything that
// there is to decide: which pieces to make, in which loads, in which order these
// go into the oven and under which profile, and in which order each station works
// on its tasks. Once all that is decided, every rule says that something does not
// start before a time which never falls as other times rise, so that there is a
// plan in which everything happens as early as it ever can (see times). Only hold
// costs make it pay to be later; what is done last, the trimming, can wait as long
// as it pays.
//
// It leaves a branch only where what is decided already costs at least as much as
// the best plan so far, everything else being as early as if it were alone. It
// shares no code with the planner but the reading of calendars.
type oracle struct {
	*toyShop
	most   []int // by section: more pieces than this are never of use
	budget int   // solutions that it may still look at
	best   float64
	plan   *plan.Plan // the best, without its cost
}

// aLoad is one load as it is decided: pieces by section, and how they hang.
type aLoad struct {
	profile int
	pieces  []int
	cure    int
	setup   *shop.Setup
	levels  [][]shop.Hang
}

// cheapest returns what the cheapest plan of a shop costs, and that plan; ok is
// false where the shop is not one that the oracle understands, or too large.
func cheapest(s *shop.Shop, budget int) (cost float64, best *plan.Plan, ok bool) {
	if !understood(s) {
		return 0, nil, false
	}
	o := &oracle{toyShop: newToyShop(s), budget: budget, best: math.Inf(1)}
	for i := range o.sections {
		product := o.sections[i].product
		n := -s.Products[product].Stock
		for _, l := range s.Demand {
			if l.Product == s.Products[product].ID {
				n += l.Quantity
			}
		}
		o.most = append(o.most, max(0, n))
	}
	o.extend(nil, 0)
	return o.best, o.plan, o.budget > 0
}

// understood reports whether a shop has nothing that the oracle does not know:
// crews, which forbid work at some times, limited material, several ovens, racks
// in a load or positions at a stage, and runs that can be split in several ways.
func understood(s *shop.Shop) bool {
	pieces := 0
	for _, p := range s.Products {
		for _, l := range s.Demand {
			if l.Product == p.ID {
				pieces += l.Quantity * len(p.Sections)
			}
		}
	}
	for _, stage := range shop.Stages() {
		if st := s.Stations.At(stage); st.Positions > 1 || st.Crew != "" {
			return false
		}
	}
	return len(s.Ovens) == 1 && s.Ovens[0].Bays == 1 && s.Ovens[0].Crew == "" && len(s.Racks) == 1 &&
		len(s.Supply) == 0 && s.Released == nil && (s.Policy.TransferPieces == 1 || s.Policy.TransferPieces >= pieces)
}

// extend tries some loads, and then all ways to have another one after them.
func (o *oracle) extend(loads []aLoad, spent float64) {
	if spent >= o.best || o.budget <= 0 {
		return
	}
	o.schedule(loads, spent)
	left := slices.Clone(o.most)
	for _, l := range loads {
		for i, n := range l.pieces {
			left[i] -= n
		}
	}
	o.choose(left, make([]int, len(left)), 0, func(pieces []int) {
		for profile := range o.s.Profiles {
			if l, ok := o.hang(profile, pieces); ok {
				oven := &o.s.Ovens[0]
				o.extend(append(slices.Clone(loads), l), spent+oven.RunCost+oven.HourCost*float64(l.cure)/60)
			}
		}
	})
}

// choose calls try with every number of pieces by section, up to left, but none
// at all.
func (o *oracle) choose(left, pieces []int, i int, try func(pieces []int)) {
	if i == len(left) {
		if slices.Max(pieces) > 0 {
			try(slices.Clone(pieces))
		}
		return
	}
	for n := range left[i] + 1 {
		pieces[i] = n
		o.choose(left, pieces, i+1, try)
	}
	pieces[i] = 0
}

// schedule tries every order of the tasks of some loads at every stage.
func (o *oracle) schedule(loads []aLoad, spent float64) {
	o.order(newTimes(o.toyShop, loads), spent, 0)
}

// sequence is the order in which stages are decided: first those with set-ups.
var sequence = [shop.StageCount]shop.Stage{shop.Wrap, shop.Tack, shop.Cut, shop.Roll, shop.Pull, shop.Strip, shop.Trim}

// order decides the depth-th stage's order, and so on.
func (o *oracle) order(t *times, spent float64, depth int) {
	o.budget--
	if o.budget <= 0 || !t.solve() {
		return
	}
	if spent+t.setupCost()+o.value(t.done(), true) >= o.best-1e-9 {
		return
	}
	if depth == len(sequence) {
		o.trim(t, spent+t.setupCost(), 0)
		return
	}
	stage := sequence[depth]
	t.permute(stage, func() bool {
		o.order(t, spent, depth+1)
		return o.budget > 0
	})
	t.orders[stage] = nil
}

// trim lets the trim tasks wait, from the i-th in order on: each until it ends as
// early as it can on every date in turn.
func (o *oracle) trim(t *times, spent float64, i int) {
	order := t.orders[shop.Trim]
	starts := t.follow(order, i)
	defer t.restore(order, i, starts)
	if n := len(order); n > 0 && t.end(&t.tasks[order[n-1]]) > o.horizon {
		return
	}
	o.budget--
	low, cost := spent+o.value(t.done(), true), spent+o.value(t.done(), false)
	if cost < o.best-1e-9 {
		o.best, o.plan = cost, o.write(t)
	}
	if i == len(order) || low >= o.best-1e-9 || o.budget <= 0 {
		return
	}
	task, clock := &t.tasks[order[i]], o.stations[shop.Trim]
	for day, midnight := range o.dates {
		start := clock.next(max(task.start, clock.startFor(midnight, t.minutes(task))))
		if clock.ahead(start, t.minutes(task)) > o.horizon {
			return
		}
		if start > task.start || day == 0 {
			task.start = start
			o.trim(t, spent, i+1)
		}
	}
}
