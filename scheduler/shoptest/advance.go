package shoptest

import (
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// Advance returns the shop as it stands at a later instant when the floor has
// kept to a valid plan of s until then. The horizon ends when that of s did,
// or with at's day if that is later. Neither s nor p is changed.
//
// Released is every load of p whose first task starts by at, but for those
// that are over and done with: unloaded, trimmed, their mandrels clean.
//
// Good sets, as p counts them, leave demand when they are allocated by at; the
// sets of an order that ships complete stay in stock, and in demand, until the
// last of them is. Pieces that make no set yet are incoming at at. From there
// a section's yield is rounded down anew, so that of the sets which p expects
// later, now and then one is missing.
func Advance(s *shop.Shop, p *plan.Plan, at shop.Instant) *shop.Shop {
	if at.Minute < s.Now.Minute {
		panic("shoptest: cannot advance to before the shop's now")
	}
	a := newAdvance(s, p, at.Minute)
	out := *s
	out.Now = a.instant(at.Minute)
	out.HorizonDays = max(1, s.HorizonDays-int(out.Today()-s.Today()))
	out.Stations = a.stations()
	out.Ovens, out.Racks, out.Mandrels = a.ovens(), a.racks(), a.mandrels()
	out.Supply = a.supply()
	out.Products, out.Incoming, out.Demand = a.demand()
	out.Released = a.released()
	return &out
}

// An advance is one call of Advance, and what it has to know of its plan.
type advance struct {
	s    *shop.Shop
	p    *plan.Plan
	now  int64
	held map[string]bool // loads released in s
	kept map[string]bool // loads released in the shop to come
	gone map[string]bool // loads begun, and over and done with
	// tasks by load, each in the plan's order
	tasks   map[string][]shop.Task
	section map[string]*shop.Section
}

func newAdvance(s *shop.Shop, p *plan.Plan, now int64) *advance {
	a := &advance{
		s: s, p: p, now: now,
		held: map[string]bool{}, kept: map[string]bool{}, gone: map[string]bool{},
		tasks: map[string][]shop.Task{}, section: map[string]*shop.Section{},
	}
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			a.section[s.Products[i].Sections[k].ID] = &s.Products[i].Sections[k]
		}
	}
	if s.Released != nil {
		for _, load := range s.Released.Loads {
			a.held[load.ID] = true
		}
	}
	for _, t := range p.Tasks {
		a.tasks[t.Load] = append(a.tasks[t.Load], t)
	}
	a.sortLoads()
	return a
}

// sortLoads sorts the loads that have begun into kept and gone. A load that is
// done stays among the kept while a position's set-up came after that of a
// load that is kept: the key left there could not be told otherwise, because
// last_setup comes before all released tasks.
func (a *advance) sortLoads() {
	for _, load := range a.p.Loads {
		switch {
		case !a.begun(&load):
		case a.done(&load):
			a.gone[load.ID] = true
		default:
			a.kept[load.ID] = true
		}
	}
	for again := true; again; {
		again = false
		first := a.firstKept()
		for id := range a.gone {
			if slices.ContainsFunc(a.tasks[id], func(t shop.Task) bool { return t.Start.Minute >= first.of(&t) }) {
				delete(a.gone, id)
				a.kept[id] = true
				again = true
			}
		}
	}
}

// begun reports whether a load's first task starts by now, or was released.
func (a *advance) begun(load *shop.Load) bool {
	first := load.In.Minute
	for _, t := range a.tasks[load.ID] {
		first = min(first, t.Start.Minute)
	}
	return a.held[load.ID] || first <= a.now
}

// done reports whether a load occupies nothing any more and has no task left.
func (a *advance) done(load *shop.Load) bool {
	if load.Out.Minute > a.now {
		return false
	}
	for _, t := range a.tasks[load.ID] {
		if t.End.Minute > a.now || t.Stage == shop.Pull && !a.clean(&t) {
			return false
		}
	}
	return true
}

// clean reports whether the mandrels of a pull task are back by now.
func (a *advance) clean(t *shop.Task) bool {
	left := int64(a.turnaround(t))
	zone := a.s.Zone()
	calendar := a.s.Calendars[a.s.Stations.Pull.Calendar]
	from, to := shop.DateAt(t.End.Minute, zone)-1, shop.DateAt(a.now, zone)+1
	for _, w := range calendar.Spans(from, to, zone) {
		left -= max(0, min(w.To, a.now)-max(w.From, t.End.Minute))
	}
	return left <= 0
}

func (a *advance) turnaround(t *shop.Task) int {
	for _, m := range a.s.MandrelTypes {
		if m.ID == a.section[t.Section].Mandrel {
			return m.TurnaroundMinutes
		}
	}
	return 0
}

// A place is one position of one stage.
type place struct {
	stage    shop.Stage
	position int
}

// starts holds, by place, when the first task of some loads starts.
type starts map[place]int64

// of returns when a task's place is first used; never, at stages without
// set-up keys.
func (s starts) of(t *shop.Task) int64 {
	if first, used := s[place{t.Stage, t.Position}]; used {
		return first
	}
	return 1<<63 - 1
}

func (a *advance) firstKept() starts {
	out := starts{}
	for id := range a.kept {
		for _, t := range a.tasks[id] {
			if a.key(&t) != "" {
				out[place{t.Stage, t.Position}] = min(out.of(&t), t.Start.Minute)
			}
		}
	}
	return out
}

// key returns what a task's position is set up for, empty where stages have
// no set-ups (rule R7).
func (a *advance) key(t *shop.Task) string {
	switch t.Stage {
	case shop.Cut:
		return t.Prepreg
	case shop.Tack:
		return a.section[t.Section].Mandrel
	case shop.Wrap:
		return a.section[t.Section].Tape
	}
	return ""
}

// released returns the kept loads and their tasks, in the plan's order.
func (a *advance) released() *shop.Released {
	var out shop.Released
	for _, load := range a.p.Loads {
		if a.kept[load.ID] {
			out.Loads = append(out.Loads, load)
		}
	}
	for _, t := range a.p.Tasks {
		if a.kept[t.Load] {
			out.Tasks = append(out.Tasks, t)
		}
	}
	if len(out.Loads) == 0 {
		return nil
	}
	return &out
}

func (a *advance) instant(minute int64) shop.Instant { return shop.InstantIn(minute, a.s.Zone()) }
