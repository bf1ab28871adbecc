// Package answer is one answer to an instance: its loads in their timetable,
// the pieces that no load carries, and what all that costs.
//
// A change takes some loads out and puts others in; it is tried, judged by the
// cost, and kept or undone. It imports instance, line, cost and rack.
package answer

import (
	"cmp"
	"slices"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
)

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// An Answer is loads in a timetable and their cost.
type Answer struct {
	In    *instance.Instance
	Table *line.Timetable
	Loads []*line.Load // placed, in no order that means anything; who keeps it over two changes must copy it
	Spare []int        // by section: pieces that should be started and are in no load; below 0 where some are made anew

	book   *cost.Book
	oven   Money
	before state // what Undo goes back to, while a change is pending
	queue  []due // of the pending change's loads
	nextID int
}

// state is what a pending change replaced. Its memory serves change after change.
type state struct {
	loads          []*line.Load
	spare          []int
	oven           Money
	dropped, added []*line.Load
}

// A due is a load to place, and when its turn comes.
type due struct {
	load *line.Load
	at   instance.Tick
}

// A Change takes loads out and puts loads in. Pieces that the loads put in
// carry less than those taken out become spare, and the other way round.
type Change struct {
	Out []*line.Load
	In  []*line.Load
	// InTurn has the loads put in placed as they are listed, and those that are
	// upset after them; else all are placed in the order of time.
	InTurn bool
}

// New returns the answer without loads: every piece that should be started is
// spare.
func New(in *instance.Instance) *Answer {
	a := &Answer{In: in, Table: line.New(in), book: cost.NewBook(in), Spare: make([]int, len(in.Sections))}
	for s := range in.Sections {
		product := in.Sections[s].Product
		a.Spare[s] = in.Starts(s, in.Wanted(product))
	}
	return a
}

// NewID returns an id that no load of this answer has had.
func (a *Answer) NewID() int {
	a.nextID++
	return a.nextID
}

// Cost is an answer's cost by term.
type Cost struct{ Late, Hold, Oven, Setup Money }

// Total returns the sum of the terms.
func (c Cost) Total() Money { return c.Late + c.Hold + c.Oven + c.Setup }

// Cost returns the cost of the loads and of what they leave undone, without
// the released work's ovens and set-ups, which no plan can change.
func (a *Answer) Cost() Cost {
	return Cost{Late: a.book.Late(), Hold: a.book.Hold(), Oven: a.oven, Setup: a.Table.SetupCost()}
}

// Shares returns how the sets of a product go to its lines.
func (a *Answer) Shares(product int) []cost.Share { return a.book.Shares(product) }

// Try makes a change. Loads that it upsets are placed again. It reports false,
// and changes nothing, where one of the loads finds no place, or another would
// lack material, or too many are upset. After true, Keep or Undo must follow.
func (a *Answer) Try(c Change) bool { return a.TryWatched(c, nil) }

// TryWatched is Try; it tells watch what stood in the way of the loads.
func (a *Answer) TryWatched(c Change, watch *line.Watch) bool {
	mark := a.Table.Mark()
	b := &a.before
	b.oven, b.spare = a.oven, append(b.spare[:0], a.Spare...)
	upset, ok := a.Table.RemoveUpsetting(len(c.Out)+fewUpset, c.Out...)
	if !ok {
		a.Table.Undo(mark)
		return false
	}
	b.dropped = append(append(b.dropped[:0], c.Out...), upset...)
	b.added = a.order(b.added[:0], c, b.dropped[len(c.Out):])
	if !a.place(b.added, watch) {
		a.Table.Undo(mark)
		a.discard(b.added)
		return false
	}
	a.recount()
	return true
}

// fewUpset is how many loads a change may upset beyond as many as it takes out. Where
// people are always busy one may upset a hundred, which takes long to find out and
// hardly ever finds room for all of them.
const fewUpset = 4

// place places loads, and reports whether all found a place and all others still
// have their material: what comes to need a set-up begins sooner.
func (a *Answer) place(loads []*line.Load, watch *line.Watch) bool {
	for _, l := range loads {
		if !a.Table.PlaceWhere(l, watch) {
			return false
		}
	}
	return a.Table.Supplied()
}

// order appends the loads to place, in the order of time or in turn.
func (a *Answer) order(to []*line.Load, c Change, upset []*line.Load) []*line.Load {
	a.queue = a.queue[:0]
	for _, l := range c.In {
		at := l.Target
		if c.InTurn {
			at = 0
		}
		a.queue = append(a.queue, due{l, at})
	}
	for _, l := range upset {
		again := l.Again()
		again.Latest = l.In + l.LateAtMost()
		a.queue = append(a.queue, due{again, l.In})
	}
	slices.SortStableFunc(a.queue, func(x, y due) int { return cmp.Compare(x.at, y.at) })
	for i := range a.queue {
		to = append(to, a.queue[i].load)
	}
	return to
}

// recount brings loads, spare pieces and costs up to date with the timetable.
func (a *Answer) recount() {
	b := &a.before
	loads := b.loads[:0]
	for _, l := range a.Loads {
		if l.Placed() {
			loads = append(loads, l)
		}
	}
	a.Loads, b.loads = append(loads, b.added...), a.Loads
	for _, l := range b.dropped {
		a.book.Drop(l)
		a.count(l, -1)
	}
	for _, l := range b.added {
		a.book.Add(l)
		a.count(l, 1)
	}
}

func (a *Answer) count(l *line.Load, sign int) {
	a.oven += Money(sign) * a.In.LoadCost(l.Oven, l.Cure)
	for _, r := range l.Runs {
		a.Spare[r.Section] -= sign * r.Pieces
	}
}

// Keep makes a tried change stand.
func (a *Answer) Keep() {
	a.Table.Keep()
	a.book.Keep()
	a.verify()
}

// Undo takes a tried change back.
func (a *Answer) Undo() {
	b := &a.before
	a.Table.Undo(0)
	for _, l := range b.added {
		a.book.Drop(l)
	}
	for _, l := range b.dropped {
		a.book.Add(l)
	}
	a.book.Undo()
	a.discard(b.added)
	a.Loads, b.loads = b.loads, a.Loads
	a.Spare, b.spare = b.spare, a.Spare
	a.oven = b.oven
}

func (a *Answer) discard(loads []*line.Load) {
	for _, l := range loads {
		a.Table.Discard(l)
	}
}

// LateOf returns what the late sets of a product cost, with the whole of each
// order that waits for it.
func (a *Answer) LateOf(product int) Money { return a.book.LateOf(product) }

// LoadsOf returns the loads that carry a product. The caller does not change
// them.
func (a *Answer) LoadsOf(product int) []*line.Load { return a.book.LoadsOf(product) }
