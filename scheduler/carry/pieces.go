package carry

import (
	"math"

	"blankwright/scheduler/shop"
)

// A Count is how many pieces a task works.
type Count struct {
	Pieces int // pieces, or at pull mandrels, in the task
	Live   int // those of them that are good when it begins
}

// Pieces returns how many pieces each task of the work has, by its index: what
// was planned, less what scrap before it in its run has taken away. It is the
// last tasks of a stage that lose pieces, and those begun after those that are
// not. At pull a task has as many mandrels as were tacked, dead pieces on them.
func Pieces(w Work) []Count {
	out := make([]Count, len(w.Tasks))
	for _, r := range runsOf(w) {
		r.count(w, out)
	}
	return out
}

// A run is the pieces of one section in one load: its tasks by stage, in the
// planned order, as indices into the work.
type run struct {
	load    string
	section string
	cuts    [][]int // by prepreg
	stages  [shop.StageCount][]int
}

// count fills in the counts of a run's tasks, stage by stage.
func (r *run) count(w Work, out []Count) {
	there := math.MaxInt
	for _, tasks := range r.cuts {
		there = min(there, passes(w, tasks, math.MaxInt, out))
	}
	there = passes(w, r.stages[shop.Tack], there, out)
	mandrels := there
	if tacks := r.stages[shop.Tack]; len(tacks) > 0 {
		mandrels = sum(tacks, func(i int) int { return out[i].Pieces })
	}
	there = passes(w, r.stages[shop.Roll], there, out)
	there = passes(w, r.stages[shop.Wrap], there, out)
	there = pulled(w, r.stages[shop.Pull], mandrels, there, out)
	there = passes(w, r.stages[shop.Strip], there, out)
	passes(w, r.stages[shop.Trim], there, out)
}

// passes counts the tasks of one stage, to which so many pieces come, and
// returns how many go on from there.
func passes(w Work, tasks []int, there int, out []Count) int {
	if len(tasks) == 0 {
		return there
	}
	for _, i := range tasks {
		n := w.Tasks[i].had()
		out[i] = Count{n, n}
	}
	lower(w, tasks, there, func(i int) *int { return &out[i].Live })
	return sum(tasks, func(i int) int {
		out[i].Pieces = out[i].Live
		return w.Tasks[i].leaves(out[i].Live)
	})
}

// pulled counts the pull tasks, to which so many mandrels come, and so many
// live pieces on them. It returns how many pieces go on.
func pulled(w Work, tasks []int, mandrels, live int, out []Count) int {
	if len(tasks) == 0 {
		return live
	}
	for _, i := range tasks {
		n := w.Tasks[i].had()
		out[i] = Count{n, n - w.Tasks[i].Dead}
	}
	lower(w, tasks, mandrels, func(i int) *int { return &out[i].Pieces })
	for _, i := range tasks {
		out[i].Live = min(out[i].Live, out[i].Pieces)
	}
	lower(w, tasks, live, func(i int) *int { return &out[i].Live })
	return sum(tasks, func(i int) int { return w.Tasks[i].leaves(out[i].Live) })
}

// lower takes pieces off the tasks until they have no more than there are in
// all: off those that are not begun first, then off those that are not done,
// the last first.
func lower(w Work, tasks []int, most int, pieces func(int) *int) {
	over := sum(tasks, func(i int) int { return *pieces(i) }) - most
	for _, begun := range []bool{false, true} {
		for k := len(tasks) - 1; k >= 0 && over > 0; k-- {
			t := &w.Tasks[tasks[k]]
			if t.Done != nil || (t.Begun != nil) != begun {
				continue
			}
			n := pieces(tasks[k])
			off := min(over, *n)
			*n -= off
			over -= off
		}
	}
}

// had returns the pieces that a task was given: as planned, or as was found
// when it was done.
func (t *Task) had() int {
	if t.Done != nil {
		return t.Good + t.Scrapped + t.Dead
	}
	return t.Planned.Pieces
}

// leaves returns the pieces that go on from a task that begins with so many.
func (t *Task) leaves(live int) int {
	if t.Done != nil {
		return t.Good
	}
	return live
}

func sum(tasks []int, of func(int) int) int {
	n := 0
	for _, i := range tasks {
		n += of(i)
	}
	return n
}
