package tidy

import (
	"cmp"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// wait lets trim tasks of early sets wait for a later day, where that saves more
// for holding them than it costs. Nothing else waits for a trim; its position and
// crew must have time for it then.
func wait(a *answer.Answer) {
	for better := true; better; {
		better = false
		for p := range a.In.Products {
			better = waitFor(a, p) || better
		}
	}
}

// waitFor puts off what trim tasks of a product it can, those that end last
// first: it is the last piece that its set waits for.
func waitFor(a *answer.Answer, product int) (better bool) {
	held := a.HeldUntil(product)
	var trims []*line.Task
	for _, l := range a.LoadsOf(product) {
		own := l.Trims()
		for i := range own {
			if a.In.Sections[own[i].Section].Product == product && own[i].End <= held {
				trims = append(trims, &own[i])
			}
		}
	}
	slices.SortFunc(trims, func(x, y *line.Task) int {
		return cmp.Or(cmp.Compare(y.End, x.End), cmp.Compare(y.Start, x.Start), cmp.Compare(y.Position, x.Position))
	})
	for _, task := range trims {
		better = putOff(a, task) || better
	}
	return better
}

// putOff puts a task off to the day that is the cheapest, if any is cheaper than
// its own.
func putOff(a *answer.Answer, task *line.Task) bool {
	before := a.Cost().Total()
	least, best := before, -1
	for day := a.In.Day(task.End) + 1; day <= a.In.Day(a.In.Horizon); day++ {
		if !a.PutOff(task, a.In.Midnight(day)) {
			break
		}
		cost := a.Cost().Total()
		a.Undo()
		if cost < least {
			least, best = cost, day
		}
		if cost > before {
			break // its sets are late
		}
	}
	if best < 0 {
		return false
	}
	a.PutOff(task, a.In.Midnight(best))
	a.Keep()
	return true
}
