package check

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// checkFlow judges R8: every run passes every stage, in order.
func (c *checker) checkFlow() {
	for _, l := range c.loads {
		if l.released {
			continue
		}
		for _, r := range l.runs {
			c.checkCarried(l, r)
			c.checkStarts(l, r)
		}
		c.checkAroundOven(l)
	}
}

// checkCarried judges that the tasks at each stage carry the run's pieces.
func (c *checker) checkCarried(l *load, r *run) {
	needed := prepregs(r.section)
	for _, id := range needed {
		if n := pieces(ofPrepreg(r, id)); n != r.pieces {
			c.breach("R8", l.where, "section %s: %d pieces of prepreg %s are cut, %d hang", r.section.ID, n, id, r.pieces)
		}
	}
	for _, t := range r.tasks[shop.Cut] {
		if !slices.Contains(needed, t.Prepreg) {
			c.breach("R8", t.where(), "section %s has no flag of prepreg %s", r.section.ID, t.Prepreg)
		}
	}
	for stage := shop.Tack; stage <= shop.Trim; stage++ {
		if n := pieces(r.tasks[stage]); n != r.pieces {
			c.breach("R8", l.where, "section %s: %d pieces at %s, %d hang", r.section.ID, n, stage, r.pieces)
		}
	}
}

// checkStarts judges that no task starts pieces that the stage before has not
// finished.
func (c *checker) checkStarts(l *load, r *run) {
	for stage := shop.Tack; stage <= shop.Trim; stage++ {
		before := [][]*task{r.tasks[stage-1]}
		if stage == shop.Tack {
			before = nil
			for _, id := range prepregs(r.section) {
				before = append(before, ofPrepreg(r, id))
			}
		}
		for _, t := range r.tasks[stage] {
			started, finished := 0, math.MaxInt
			for _, o := range r.tasks[stage] {
				if o.Start.Minute <= t.Start.Minute {
					started += o.Pieces
				}
			}
			for _, tasks := range before {
				finished = min(finished, finishedBy(tasks, t.Start.Minute))
			}
			if started > finished {
				c.breach("R8", t.where(), "at %s %d pieces of section %s in load %s have started %s, %d are finished before it", c.at(t.Start.Minute), started, r.section.ID, l.ID, stage, finished)
			}
		}
	}
}

// checkAroundOven judges that wrapping ends before the oven is loaded, and
// pulling starts after the rest.
func (c *checker) checkAroundOven(l *load) {
	for _, t := range l.at(shop.Wrap) {
		if t.End.Minute > l.In.Minute {
			c.breach("R8", t.where(), "wrap ends %s, load %s is in %s", c.at(t.End.Minute), l.ID, c.at(l.In.Minute))
		}
	}
	rested := l.Out.Minute + int64(l.profile.RestMinutes)
	for _, t := range l.at(shop.Pull) {
		if t.Start.Minute < rested {
			c.breach("R8", t.where(), "pull starts %s, load %s has rested %s", c.at(t.Start.Minute), l.ID, c.at(rested))
		}
	}
}

// ofPrepreg returns a run's cut tasks of one prepreg.
func ofPrepreg(r *run, id string) []*task {
	var tasks []*task
	for _, t := range r.tasks[shop.Cut] {
		if t.Prepreg == id {
			tasks = append(tasks, t)
		}
	}
	return tasks
}

// pieces returns how many pieces tasks carry.
func pieces(tasks []*task) int { return finishedBy(tasks, forever) }

// finishedBy returns how many pieces tasks have finished at an instant.
func finishedBy(tasks []*task, minute int64) int {
	n := 0
	for _, t := range tasks {
		if t.End.Minute <= minute {
			n += t.Pieces
		}
	}
	return n
}
