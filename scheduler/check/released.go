package check

import (
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
)

// checkReleased judges R15: released loads stand in the plan as they are, with
// all of their tasks and no more.
func (c *checker) checkReleased() {
	if c.shop.Released == nil {
		return
	}
	planned := map[string]*load{}
	for _, l := range c.loads {
		planned[l.ID] = l
	}
	for i := range c.shop.Released.Loads {
		released := &c.shop.Released.Loads[i]
		if l := planned[released.ID]; l == nil {
			c.breach("R15", "load "+released.ID, "the released load is not in the plan")
		} else if what := difference(released, l.Load); what != "" {
			c.breach("R15", l.where, "%s differs from the released load's", what)
		}
	}
	c.checkReleasedTasks()
}

// checkReleasedTasks compares the released tasks with the plan's tasks of
// released loads, each with as many equals as it has.
func (c *checker) checkReleasedTasks() {
	stands := map[shop.Task]int{}
	for _, t := range c.tasks {
		if t.load.released {
			stands[normal(*t.Task)]++
		}
	}
	wanted := map[shop.Task]int{}
	for i, t := range c.shop.Released.Tasks {
		key := normal(t)
		if wanted[key]++; wanted[key] > stands[key] {
			c.breach("R15", "load "+t.Load, "the plan lacks released task %d: %s", i, describe(&t))
		}
	}
	for _, t := range c.tasks {
		if !t.load.released {
			continue
		}
		key := normal(*t.Task)
		if wanted[key]--; wanted[key] < 0 {
			c.breach("R15", t.where(), "load %s is released without this task: %s", t.Load, describe(t.Task))
		}
	}
}

// normal returns a task with its instants' offsets dropped, which say nothing.
func normal(t shop.Task) shop.Task {
	t.Start.Offset, t.End.Offset = 0, 0
	return t
}

func describe(t *shop.Task) string {
	return fmt.Sprintf("%d pieces of section %s at %s/%d from %s", t.Pieces, t.Section, t.Stage, t.Position, t.Start)
}

// difference names the first field in which two loads differ; empty if none.
func difference(a, b *shop.Load) string {
	switch {
	case a.Oven != b.Oven:
		return "oven"
	case a.Profile != b.Profile:
		return "profile"
	case a.In.Minute != b.In.Minute:
		return "in"
	case a.CureStart.Minute != b.CureStart.Minute:
		return "cure_start"
	case a.CureEnd.Minute != b.CureEnd.Minute:
		return "cure_end"
	case a.Out.Minute != b.Out.Minute:
		return "out"
	case !slices.EqualFunc(a.Racks, b.Racks, sameRack):
		return "racks"
	default:
		return ""
	}
}

// sameRack reports whether two racks hang alike. Levels left out at the end
// are empty.
func sameRack(a, b shop.RackUse) bool {
	return a.Rack == b.Rack && a.Setup == b.Setup &&
		slices.EqualFunc(hungLevels(a.Levels), hungLevels(b.Levels), slices.Equal[[]shop.Hang])
}

func hungLevels(levels [][]shop.Hang) [][]shop.Hang {
	for len(levels) > 0 && len(levels[len(levels)-1]) == 0 {
		levels = levels[:len(levels)-1]
	}
	return levels
}
