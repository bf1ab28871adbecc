package check_test

import (
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// mutators returns every mutator. Each is named by the rule that it is after;
// which it breaks is for the checkers to say.
func mutators() []mutator {
	return slices.Concat(none, planMutators, shopMutators, releasedMutators, fileMutators)
}

// none change only how a plan is put down, so it stays valid.
var none = []mutator{
	{"none", func(m *mutation) bool { return true }},
	{"none tasks in another order", func(m *mutation) bool {
		m.Shuffle(len(m.plan.Tasks), func(i, j int) { m.plan.Tasks[i], m.plan.Tasks[j] = m.plan.Tasks[j], m.plan.Tasks[i] })
		return true
	}},
	{"none loads in another order", func(m *mutation) bool {
		m.Shuffle(len(m.plan.Loads), func(i, j int) { m.plan.Loads[i], m.plan.Loads[j] = m.plan.Loads[j], m.plan.Loads[i] })
		return true
	}},
	{"none racks in another order", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { slices.Reverse(l.Racks) })
	}},
	{"none other offsets", func(m *mutation) bool {
		for i := range m.plan.Tasks {
			m.plan.Tasks[i].Start.Offset = 60 * (m.IntN(20) - 10)
		}
		return true
	}},
	{"none an allocation in two rows", func(m *mutation) bool {
		a := pickWhere(m, m.plan.Allocations, func(a *plan.Allocation) bool { return a.Sets > 1 })
		return with(a, func(a *plan.Allocation) {
			rest := *a
			rest.Sets = a.Sets - 1
			a.Sets = 1
			m.plan.Allocations = append(m.plan.Allocations, rest)
		})
	}},
	{"none fields that are null", func(m *mutation) bool {
		m.edit = func(file map[string]any) {
			for _, task := range file["tasks"].([]any) {
				if task := task.(map[string]any); task["prepreg"] == nil {
					task["prepreg"] = nil
				}
			}
		}
		return true
	}},
}

// with does something to an item, and reports whether there was one.
func with[T any](item *T, do func(*T)) bool {
	if item == nil {
		return false
	}
	do(item)
	return true
}

var planMutators = []mutator{
	{"R1 another profile", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.Profile = pick(m, m.shop.Profiles).ID })
	}},
	{"R2 another cure end", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.CureEnd.Minute += m.minutes() })
	}},
	{"R3 other pieces on a level", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { m.hang(l).Pieces += m.IntN(7) - 3 })
	}},
	{"R3 an entry without pieces", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			rack := pick(m, l.Racks)
			level := pick(m, rack.Levels)
			*level = append(*level, shop.Hang{Section: m.section().ID})
		})
	}},
	{"R3 a level too many", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			rack := pick(m, l.Racks)
			rack.Levels = append(rack.Levels, make([][]shop.Hang, 1+m.IntN(3))...)
			rack.Levels = append(rack.Levels, []shop.Hang{{Section: m.section().ID, Pieces: 1}})
		})
	}},
	{"R3 a level on another", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			from, to := pick(m, l.Racks), pick(m, l.Racks)
			source, target := pick(m, from.Levels), pick(m, to.Levels)
			moved := *source
			*source = nil
			*target = append(*target, moved...)
		})
	}},
	{"R3 a rack on itself", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.Racks = append(l.Racks, *pick(m, l.Racks)) })
	}},
	{"R3 a rack's other set-up", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			use := pick(m, l.Racks)
			for i := range m.shop.Racks {
				if m.shop.Racks[i].ID == use.Rack {
					use.Setup = pick(m, m.shop.Racks[i].Setups).ID
				}
			}
		})
	}},
	{"R4 a load at another time", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { moveLoad(l, m.minutes()) })
	}},
	{"R4 another in", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.In.Minute += m.minutes() })
	}},
	{"R4 another cure start", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.CureStart.Minute += m.minutes() })
	}},
	{"R4 another out", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.Out.Minute += m.minutes() })
	}},
	{"R4 a load where another is", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			other := pick(m, m.plan.Loads)
			l.Oven = other.Oven
			moveLoad(l, other.In.Minute-l.In.Minute+int64(m.IntN(60)))
		})
	}},
	{"R4 another oven", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { l.Oven = pick(m, m.shop.Ovens).ID })
	}},
	{"R4 before now", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { moveLoad(l, m.shop.Now.Minute-l.In.Minute-1-int64(m.IntN(3000))) })
	}},
	{"R6 a task at another time", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { move(t, m.minutes()) })
	}},
	{"R6 another end", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.End.Minute += m.minutes() })
	}},
	{"R6 another start", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Start.Minute += m.minutes() })
	}},
	{"R6 before now", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { move(t, m.shop.Now.Minute-t.Start.Minute-int64(1+m.IntN(2000))) })
	}},
	{"R6 another position", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Position = 1 + m.IntN(m.shop.Stations.At(t.Stage).Positions) })
	}},
	{"R6 no such position", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Position = m.shop.Stations.At(t.Stage).Positions + 1 + m.IntN(3) })
	}},
	{"R6 two tasks at once", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) {
			other := pickWhere(m, m.plan.Tasks, func(o *shop.Task) bool { return o.Stage == t.Stage })
			t.Position = other.Position
			move(t, other.Start.Minute-t.Start.Minute)
		})
	}},
	{"R6 R8 other pieces", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Pieces += m.IntN(9) - 4 })
	}},
	{"R6 a task in two", func(m *mutation) bool {
		t := pickWhere(m, m.plan.Tasks, func(t *shop.Task) bool { return !m.released(t.Load) && t.Pieces > 1 && t.Stage != shop.Cut })
		return with(t, func(t *shop.Task) {
			rest := *t
			rest.Pieces--
			t.Pieces = 1
			m.plan.Tasks = append(m.plan.Tasks, rest)
		})
	}},
	{"R7 a set-up stated otherwise", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Setup = !t.Setup })
	}},
	{"R7 two tasks change places", func(m *mutation) bool {
		return with(m.task(shop.Cut, shop.Tack, shop.Wrap), func(t *shop.Task) {
			other := m.task(t.Stage)
			t.Start, t.End, t.Position, other.Start, other.End, other.Position = other.Start, other.End, other.Position, t.Start, t.End, t.Position
		})
	}},
	{"R8 a task is missing", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) {
			i := slices.Index(m.plan.Tasks, *t)
			m.plan.Tasks = slices.Delete(m.plan.Tasks, i, i+1)
		})
	}},
	{"R8 a task is there twice", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { m.plan.Tasks = append(m.plan.Tasks, *t) })
	}},
	{"R8 a task of another section", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Section = m.section().ID })
	}},
	{"R8 a task of another load", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { t.Load = m.load().ID })
	}},
	{"R8 another prepreg", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) { t.Prepreg = pick(m, m.shop.Prepregs).ID })
	}},
	{"R8 a task at another stage", func(m *mutation) bool {
		return with(m.task(shop.Tack, shop.Roll, shop.Wrap, shop.Pull, shop.Strip), func(t *shop.Task) { t.Stage++ })
	}},
	{"R8 pulled early", func(m *mutation) bool {
		return with(m.task(shop.Pull), func(t *shop.Task) { move(t, -int64(1+m.IntN(600))) })
	}},
	{"R8 wrapped late", func(m *mutation) bool {
		return with(m.task(shop.Wrap), func(t *shop.Task) { move(t, int64(1+m.IntN(600))) })
	}},
	{"R10 cut early", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) { move(t, -int64(1000+m.IntN(5000))) })
	}},
	{"R13 done at another time", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) { a.DoneAt.Minute += m.minutes() })
	}},
	{"R13 other sets", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) { a.Sets += m.IntN(7) - 3 })
	}},
	{"R13 an allocation is missing", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) {
			i := slices.Index(m.plan.Allocations, *a)
			m.plan.Allocations = slices.Delete(m.plan.Allocations, i, i+1)
		})
	}},
	{"R13 an allocation is there twice", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) { m.plan.Allocations = append(m.plan.Allocations, *a) })
	}},
	{"R13 lines change places", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) {
			b := pick(m, m.plan.Allocations)
			a.Line, b.Line = b.Line, a.Line
		})
	}},
	{"R13 another line", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) { a.Line = pick(m, m.shop.Demand).ID })
	}},
	{"R13 done before now", func(m *mutation) bool {
		return with(pick(m, m.plan.Allocations), func(a *plan.Allocation) { a.DoneAt.Minute = m.shop.Now.Minute - 1 - int64(m.IntN(1000)) })
	}},
	{"R14 far beyond the horizon", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { move(t, int64(m.shop.HorizonDays*1440)+int64(m.IntN(100000))) })
	}},
	{"R14 a load far beyond the horizon", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { moveLoad(l, int64(m.shop.HorizonDays*1440)+int64(m.IntN(100000))) })
	}},
	{"cost a term off", func(m *mutation) bool {
		c := &m.plan.Cost
		term := []*float64{&c.Late, &c.Hold, &c.Oven, &c.Setup, &c.Total}[m.IntN(5)]
		*term += m.share(-1, 1) * []float64{0.005, 0.05, 50}[m.IntN(3)]
		return true
	}},
	{"bound another bound", func(m *mutation) bool {
		m.plan.Bound.Total = m.plan.Cost.Total * m.share(-1, 2)
		m.plan.Bound.Gap = 1 - m.plan.Bound.Total/m.plan.Cost.Total
		return m.plan.Cost.Total > 0
	}},
	{"bound another gap", func(m *mutation) bool {
		m.plan.Bound.Gap += m.share(-1, 1) * []float64{0.0003, 0.001, 2}[m.IntN(3)]
		return true
	}},
}

// hang returns one of a load's entries.
func (m *mutation) hang(l *shop.Load) *shop.Hang {
	var entries []*shop.Hang
	for _, r := range l.Racks {
		for _, level := range r.Levels {
			for i := range level {
				entries = append(entries, &level[i])
			}
		}
	}
	return *pick(m, entries)
}

// moveLoad moves a load's times in the oven by minutes.
func moveLoad(l *shop.Load, minutes int64) {
	for _, i := range []*shop.Instant{&l.In, &l.CureStart, &l.CureEnd, &l.Out} {
		i.Minute += minutes
	}
}
