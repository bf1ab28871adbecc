package runs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A Difference is what is otherwise in a later plan than in an earlier one.
type Difference struct {
	Lines []LineMove   // whose ship date moved, in the later shop's order, then the earlier's
	Loads []LoadChange // by when the load goes in
}

// A LineMove is a line that ships on another date, or other sets of it do.
type LineMove struct {
	Line, Order, Product string
	Due                  shop.Date  // by the later shop, where it has the line
	From, To             *shop.Date // of its last planned set; nil where it ships nothing
	// UnplannedFrom and UnplannedTo are the sets that do not ship.
	UnplannedFrom, UnplannedTo int
	// New and Gone say that only the later, or only the earlier, shop has the line.
	New, Gone bool
}

// Days returns by how many days a line ships later than before, less than 0 where
// it ships sooner, and false where it did not ship before or does not now.
func (m *LineMove) Days() (int, bool) {
	if m.From == nil || m.To == nil {
		return 0, false
	}
	return int(*m.To - *m.From), true
}

// WasLate reports whether some of the line's sets shipped after it is due, or not
// at all.
func (m *LineMove) WasLate() bool { return m.UnplannedFrom > 0 || m.From != nil && *m.From > m.Due }

// IsLate reports whether some of its sets do now.
func (m *LineMove) IsLate() bool { return m.UnplannedTo > 0 || m.To != nil && *m.To > m.Due }

// What becomes of a load from one plan to the next.
const (
	LoadAdded   = "added"
	LoadRemoved = "removed"
	LoadChanged = "changed"
)

// A LoadChange is a load that only one of two plans has, or that is otherwise in
// the later one. Before is nil where it was added, After where it was removed.
type LoadChange struct {
	What          string
	Before, After *shop.Load
}

// at returns when the load goes in, or went in before.
func (c *LoadChange) at() int64 {
	if c.After != nil {
		return c.After.In.Minute
	}
	return c.Before.In.Minute
}

// Compare tells what is otherwise in the later of two plans, each with the shop
// that it was made for.
func Compare(before *shop.Shop, earlier *plan.Plan, after *shop.Shop, later *plan.Plan) Difference {
	return Difference{
		Lines: moves(Shippings(before, earlier), Shippings(after, later)),
		Loads: loadChanges(earlier.Loads, later.Loads),
	}
}

func moves(before, after []Shipping) []LineMove {
	was, is := map[string]*Shipping{}, map[string]bool{}
	for i := range before {
		was[before[i].Line.ID] = &before[i]
	}
	var list []LineMove
	for i := range after {
		is[after[i].Line.ID] = true
		if old := was[after[i].Line.ID]; old == nil || !sameParts(old, &after[i]) {
			list = append(list, moveOf(old, &after[i]))
		}
	}
	for i := range before {
		if !is[before[i].Line.ID] {
			list = append(list, moveOf(&before[i], nil))
		}
	}
	return list
}

func sameParts(a, b *Shipping) bool {
	return a.Unplanned == b.Unplanned && (a.Ship == nil) == (b.Ship == nil) && (a.Ship == nil || *a.Ship == *b.Ship)
}

// moveOf tells of one line, of which either side may be nil.
func moveOf(old, now *Shipping) LineMove {
	m := LineMove{New: old == nil, Gone: now == nil}
	if old != nil {
		m.Line, m.Order, m.Product, m.Due = old.Line.ID, old.Line.Order, old.Line.Product, old.Line.Due
		m.From, m.UnplannedFrom = old.Ship, old.Unplanned
	}
	if now != nil {
		m.Line, m.Order, m.Product, m.Due = now.Line.ID, now.Line.Order, now.Line.Product, now.Line.Due
		m.To, m.UnplannedTo = now.Ship, now.Unplanned
	}
	return m
}

// likeness are the ways in which a load of one plan is known again in another,
// the surest first. A load's id says nothing: each plan numbers its own anew.
var likeness = []func(*shop.Load) string{
	func(l *shop.Load) string { return wholly(l) },
	func(l *shop.Load) string { return fmt.Sprintf("%s %d", l.Oven, l.In.Minute) },
	func(l *shop.Load) string { return runsOf(l) },
}

func loadChanges(before, after []shop.Load) []LoadChange {
	old, now := pointers(before), pointers(after)
	var list []LoadChange
	for _, alike := range likeness {
		var pairs []LoadChange
		old, now, pairs = pair(old, now, alike)
		list = append(list, pairs...)
	}
	list = slices.DeleteFunc(list, func(c LoadChange) bool { return wholly(c.Before) == wholly(c.After) })
	for _, l := range old {
		list = append(list, LoadChange{What: LoadRemoved, Before: l})
	}
	for _, l := range now {
		list = append(list, LoadChange{What: LoadAdded, After: l})
	}
	slices.SortStableFunc(list, func(a, b LoadChange) int { return cmp.Compare(a.at(), b.at()) })
	return list
}

// pair takes out of two lists the loads that are alike, each once.
func pair(old, now []*shop.Load, alike func(*shop.Load) string) (restOld, restNow []*shop.Load, pairs []LoadChange) {
	waiting := map[string][]*shop.Load{}
	for _, l := range old {
		waiting[alike(l)] = append(waiting[alike(l)], l)
	}
	taken := map[*shop.Load]bool{}
	for _, l := range now {
		same := waiting[alike(l)]
		if len(same) == 0 {
			restNow = append(restNow, l)
			continue
		}
		pairs = append(pairs, LoadChange{What: LoadChanged, Before: same[0], After: l})
		taken[same[0]], waiting[alike(l)] = true, same[1:]
	}
	for _, l := range old {
		if !taken[l] {
			restOld = append(restOld, l)
		}
	}
	return restOld, restNow, pairs
}

// wholly tells all of a load but its id.
func wholly(l *shop.Load) string {
	return fmt.Sprintf("%s %s %d %d %d %d %v", l.Oven, l.Profile, l.In.Minute, l.CureStart.Minute, l.CureEnd.Minute, l.Out.Minute, l.Racks)
}

// runsOf tells what hangs in a load, wherever it hangs.
func runsOf(l *shop.Load) string {
	pieces := map[string]int{}
	for _, rack := range l.Racks {
		for _, level := range rack.Levels {
			for _, hang := range level {
				pieces[hang.Section] += hang.Pieces
			}
		}
	}
	var runs []string
	for section, n := range pieces {
		runs = append(runs, fmt.Sprintf("%s×%d", section, n))
	}
	slices.Sort(runs)
	return strings.Join(runs, " ")
}

func pointers(loads []shop.Load) []*shop.Load {
	list := make([]*shop.Load, len(loads))
	for i := range loads {
		list[i] = &loads[i]
	}
	return list
}
