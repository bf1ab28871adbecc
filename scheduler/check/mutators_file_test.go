package check_test

import (
	"slices"
	"strings"

	"blankwright/scheduler/shop"
)

// releasedMutators change released work, in the plan alone or in both files.
var releasedMutators = []mutator{
	{"R15 a released task at another time", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) { move(t, m.minutes()) })
	}},
	{"R15 a released task changed", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) {
			switch m.IntN(4) {
			case 0:
				t.Pieces++
			case 1:
				t.Position++
			case 2:
				t.Setup = !t.Setup
			default:
				t.End.Minute += m.minutes()
			}
		})
	}},
	{"R15 a released task is missing", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) {
			i := slices.Index(m.plan.Tasks, *t)
			m.plan.Tasks = slices.Delete(m.plan.Tasks, i, i+1)
		})
	}},
	{"R15 a released task is there twice", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) { m.plan.Tasks = append(m.plan.Tasks, *t) })
	}},
	{"R15 a task joins a released load", func(m *mutation) bool {
		held := m.heldLoad()
		return held != nil && with(m.task(), func(t *shop.Task) { t.Load = held.ID })
	}},
	{"R15 a released load changed", func(m *mutation) bool {
		return with(m.heldLoad(), func(l *shop.Load) {
			switch m.IntN(4) {
			case 0:
				m.hang(l).Pieces++
			case 1:
				l.Oven = pick(m, m.shop.Ovens).ID
			case 2:
				l.Profile = pick(m, m.shop.Profiles).ID
			default:
				moveLoad(l, m.minutes())
			}
		})
	}},
	{"R15 a released load is missing", func(m *mutation) bool {
		return with(m.heldLoad(), func(l *shop.Load) {
			gone := l.ID
			m.plan.Loads = slices.DeleteFunc(m.plan.Loads, func(l shop.Load) bool { return l.ID == gone })
			m.plan.Tasks = slices.DeleteFunc(m.plan.Tasks, func(t shop.Task) bool { return t.Load == gone })
		})
	}},
	{"R15 released work takes another time", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) {
			minutes := m.minutes()
			move(&m.shop.Released.Tasks[slices.Index(m.shop.Released.Tasks, *t)], minutes)
			move(t, minutes)
		})
	}},
	{"R15 a released load is out later", func(m *mutation) bool {
		return with(m.heldLoad(), func(l *shop.Load) {
			later := int64(m.IntN(3000))
			l.Out.Minute += later
			for i := range m.shop.Released.Loads {
				if m.shop.Released.Loads[i].ID == l.ID {
					m.shop.Released.Loads[i].Out.Minute += later
				}
			}
		})
	}},
	{"R15 R7 released work sets up otherwise", func(m *mutation) bool {
		return with(m.heldTask(), func(t *shop.Task) {
			m.shop.Released.Tasks[slices.Index(m.shop.Released.Tasks, *t)].Setup = !t.Setup
			t.Setup = !t.Setup
		})
	}},
	{"R15 more is released", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			if m.shop.Released == nil {
				m.shop.Released = new(shop.Released)
			}
			m.shop.Released.Loads = append(m.shop.Released.Loads, *l)
			for _, t := range m.plan.Tasks {
				if t.Load == l.ID {
					m.shop.Released.Tasks = append(m.shop.Released.Tasks, t)
				}
			}
		})
	}},
}

// fileMutators change the plan's file so that it isn't one for this shop.
var fileMutators = []mutator{
	{"file another head", func(m *mutation) bool {
		switch m.IntN(3) {
		case 0:
			m.plan.Format = "blankwright/plan/0"
		case 1:
			m.plan.Shop += " "
		default:
			m.plan.Now.Minute += m.minutes()
		}
		return true
	}},
	{"file a load id twice", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			m.plan.Loads = append(m.plan.Loads, *l)
		})
	}},
	{"file a field missing", func(m *mutation) bool { return m.row(func(row map[string]any, key string) { delete(row, key) }) }},
	{"file a field unknown", func(m *mutation) bool {
		return m.row(func(row map[string]any, key string) { row[key+"_x"] = row[key] })
	}},
	{"file a field null", func(m *mutation) bool { return m.row(func(row map[string]any, key string) { row[key] = nil }) }},
	{"file a field of another type", func(m *mutation) bool {
		return m.row(func(row map[string]any, key string) {
			row[key] = []any{"4", 4.5, true, []any{}, map[string]any{}, -1}[m.IntN(6)]
		})
	}},
	{"file an id unknown", func(m *mutation) bool {
		return m.row(func(row map[string]any, key string) {
			if text, ok := row[key].(string); ok && !strings.HasPrefix(text, "20") {
				row[key] = text + "?"
			} else {
				row["oven"], row["stage"], row["line"] = "?", "?", "?"
			}
		})
	}},
	{"file an instant in another form", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) {
			text := []string{"2026-11-26T08:00:30+00:00", "2026-11-26T08:00:00", "2026-11-26 08:00:00+00:00", "2026-11-26", "2026-13-26T08:00:00Z", "2026-11-26T08:00Z", "2026-02-30T08:00:00Z", "2026-11-26t08:00:00Z", "2026-11-26T08:00:00+0000"}[m.IntN(9)]
			m.edit = func(file map[string]any) { file["tasks"].([]any)[0].(map[string]any)["start"] = text }
		})
	}},
	{"file a prepreg elsewhere", func(m *mutation) bool {
		return with(m.task(shop.Tack, shop.Roll, shop.Wrap, shop.Pull), func(t *shop.Task) { t.Prepreg = pick(m, m.shop.Prepregs).ID })
	}},
	{"file no prepreg", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) { t.Prepreg = "" })
	}},
	{"file a prepreg unknown", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) { t.Prepreg += "?" })
	}},
}

// row changes one field of one row of the file: of the plan itself, a load, a
// task, an allocation, the cost or the bound.
func (m *mutation) row(change func(row map[string]any, key string)) bool {
	list := []string{"", "loads", "tasks", "allocations", "cost", "bound"}[m.IntN(6)]
	number := m.IntN(1 << 20)
	m.edit = func(file map[string]any) {
		row := file
		switch part := file[list].(type) {
		case []any:
			if len(part) > 0 {
				row = part[number%len(part)].(map[string]any)
			}
		case map[string]any:
			row = part
		}
		var keys []string
		for key := range row {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		change(row, keys[number%len(keys)])
	}
	return true
}
