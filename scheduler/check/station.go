package check

import "blankwright/scheduler/shop"

// checkStations judges R6: each task's pieces, instants and position.
func (c *checker) checkStations() {
	for _, t := range c.tasks {
		if !t.load.released {
			c.checkTask(t)
		}
	}
	for _, p := range c.positions {
		c.checkPositionApart(p)
	}
	for _, l := range c.loads {
		if l.released {
			continue
		}
		for _, r := range l.runs {
			if r.pieces > 0 {
				c.checkTaskCounts(l, r)
			}
		}
	}
}

func (c *checker) checkTask(t *task) {
	if t.Position < 1 || t.Position > t.station.Positions {
		c.breach("R6", t.where(), "position %d, %s has %d", t.Position, t.Stage, t.station.Positions)
		return
	}
	if most := c.shop.Policy.TransferPieces; t.Pieces < 1 || t.Pieces > most {
		c.breach("R6", t.where(), "%d pieces, a task has 1 to %d", t.Pieces, most)
	}
	if t.Start.Minute < c.now {
		c.breach("R6", t.where(), "start %s is before now %s", c.at(t.Start.Minute), c.at(c.now))
	}
	if !t.hours.open(t.Start.Minute) {
		c.breach("R6", t.where(), "start %s is no working minute of %s/%d", c.at(t.Start.Minute), t.Stage, t.Position)
		return
	}
	need := taskMinutes(t)
	if end, ok := t.hours.after(t.Start.Minute, int64(need)); !ok || end != t.End.Minute {
		c.breach("R6", t.where(), "%.0f working minutes from %s do not end at %s", need, c.at(t.Start.Minute), c.at(t.End.Minute))
	}
}

// taskMinutes returns the working minutes that a task needs, its set-up
// included.
func taskMinutes(t *task) float64 {
	each := t.section.Minutes.At(t.Stage)
	if t.Stage == shop.Cut {
		for _, flag := range t.section.Flags {
			if flag.Prepreg == t.Prepreg {
				each += flag.CutMinutes
			}
		}
	}
	minutes := float64(t.Pieces) * each
	if t.needsSetup {
		minutes += float64(t.station.SetupMinutes)
	}
	return max(1, roundUp(minutes))
}

// checkPositionApart judges that no two tasks have one position at once.
func (c *checker) checkPositionApart(p *position) {
	var bookings []booking
	for _, t := range p.tasks {
		bookings = append(bookings, booking{t.taken(), t.load.released, t.where()})
	}
	for _, clash := range clashes(bookings) {
		a, b := clash.booking, clash.with
		c.breach("R6", a.where, "has %s/%d from %s to %s, %s from %s to %s", p.stage, p.number, c.at(a.from), c.at(a.to), b.where, c.at(b.from), c.at(b.to))
	}
}

// checkTaskCounts judges that a run is worked in no more tasks than it needs.
func (c *checker) checkTaskCounts(l *load, r *run) {
	transfer := c.shop.Policy.TransferPieces
	most := (r.pieces + transfer - 1) / transfer
	for stage, tasks := range r.tasks {
		count := map[string]int{}
		for _, t := range tasks {
			if count[t.Prepreg]++; count[t.Prepreg] == most+1 {
				c.breach("R6", t.where(), "load %s has more than %d tasks at %s for its %d pieces of section %s", l.ID, most, shop.Stage(stage), r.pieces, r.section.ID)
			}
		}
	}
}

// setupKey returns what a task needs set up on its position; false at a stage
// that has no set-up.
func setupKey(t *task) (string, bool) {
	switch t.Stage {
	case shop.Cut:
		return t.Prepreg, true
	case shop.Tack:
		return t.section.Mandrel, true
	case shop.Wrap:
		return t.section.Tape, true
	default:
		return "", false
	}
}

// findSetups settles for every task whether it needs a set-up.
func (c *checker) findSetups() {
	for _, p := range c.positions {
		var before *string
		last := c.shop.Stations.At(p.stage).LastSetup
		if p.number >= 1 && p.number <= len(last) {
			before = last[p.number-1]
		}
		for _, t := range p.tasks {
			key, keyed := setupKey(t)
			t.needsSetup = keyed && (before == nil || *before != key)
			if t.load.released || !p.there {
				t.needsSetup = t.Setup
			}
			before = &key
		}
	}
}

// checkSetups judges R7: a task states its set-up just where it needs one.
func (c *checker) checkSetups() {
	for _, t := range c.tasks {
		if !t.load.released && t.Setup != t.needsSetup {
			key, _ := setupKey(t)
			c.breach("R7", t.where(), "setup is %t for %q on %s/%d, it should be %t", t.Setup, key, t.Stage, t.Position, t.needsSetup)
		}
	}
}
