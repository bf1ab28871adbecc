package check

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// checkHanging judges R3: what hangs where, and what it weighs.
func (c *checker) checkHanging() {
	for _, l := range c.loads {
		if l.released {
			continue
		}
		if n := len(l.Racks); n < 1 || n > l.oven.Bays {
			c.breach("R3", l.where, "%d racks, oven %s has %d bays", n, l.oven.ID, l.oven.Bays)
		}
		pieces := 0
		for i := range l.Racks {
			pieces += c.checkRack(l, i)
		}
		if pieces < 1 {
			c.breach("R3", l.where, "%d pieces in the load", pieces)
		}
		if exceeds(l.kg, l.oven.MaxKg) {
			c.breach("R3", l.where, "%.3f kg with racks, oven %s carries %g", l.kg, l.oven.ID, l.oven.MaxKg)
		}
	}
}

// checkRack judges one rack of a load, and returns how many pieces hang on it.
func (c *checker) checkRack(l *load, index int) int {
	use := &l.Racks[index]
	rack := c.known.racks[use.Rack]
	in := setup(rack, use.Setup)
	what := fmt.Sprintf("racks[%d] (%s as %s)", index, use.Rack, use.Setup)
	if exceeds(in.OuterHeightMM, l.oven.HeightMM) {
		c.breach("R3", l.where, "%s is %g mm high, oven %s has %g", what, in.OuterHeightMM, l.oven.ID, l.oven.HeightMM)
	}
	if kg := c.hungKg(use); exceeds(kg, rack.MaxKg) {
		c.breach("R3", l.where, "%s carries %.3f kg, it may %g", what, kg, rack.MaxKg)
	}
	pieces := 0
	for i, level := range use.Levels {
		for _, hang := range level {
			pieces += hang.Pieces
		}
		name := fmt.Sprintf("%s level %d", what, i+1)
		if i < len(in.Levels) {
			c.checkLevel(l, name, &in.Levels[i], level)
		} else {
			c.breach("R3", l.where, "%s: the set-up has %d levels", name, len(in.Levels))
		}
	}
	return pieces
}

func (c *checker) checkLevel(l *load, name string, level *shop.Level, hung []shop.Hang) {
	pegs := 0.0
	for _, hang := range hung {
		section := c.known.sections[hang.Section]
		mandrel := c.known.mandrelTypes[section.Mandrel]
		if hang.Pieces < 1 {
			c.breach("R3", l.where, "%s: %d pieces of section %s", name, hang.Pieces, section.ID)
		}
		if exceeds(mandrel.HangMM, level.ClearMM) {
			c.breach("R3", l.where, "%s: mandrel %s hangs %g mm, %g are clear", name, mandrel.ID, mandrel.HangMM, level.ClearMM)
		}
		each := max(1, roundUp((section.ODMM+c.shop.Policy.GapMM)/level.PitchMM))
		pegs += float64(hang.Pieces) * each
	}
	if pegs > float64(level.Pegs) {
		c.breach("R3", l.where, "%s: %.0f pegs taken, it has %d", name, pegs, level.Pegs)
	}
}

// checkRacksInUse judges R5: no more racks of a type in use than there are.
func (c *checker) checkRacksInUse() {
	for i := range c.shop.Racks {
		rack := &c.shop.Racks[i]
		var u usage
		u.supply(span{c.now, forever}, rack.Count)
		for _, until := range rack.BusyUntil {
			u.supply(span{c.now, until.Minute}, -1)
		}
		for _, l := range c.loads {
			n := 0
			for _, use := range l.Racks {
				if use.Rack == rack.ID {
					n++
				}
			}
			if n > 0 {
				u.take(racksTaken(l), n, l.released, l.where)
			}
		}
		for _, e := range u.excesses(c.now) {
			c.breach("R5", e.where, "at %s %d racks %s are taken, %s", c.at(e.at), e.other, rack.ID, e.left())
		}
	}
}

// racksTaken returns the span in which a load has its racks.
func racksTaken(l *load) span {
	taken := l.taken()
	if wraps := l.at(shop.Wrap); len(wraps) > 0 {
		taken.from = wraps[0].Start.Minute
		for _, t := range wraps {
			taken.from = min(taken.from, t.Start.Minute)
		}
	}
	if pulls := l.at(shop.Pull); len(pulls) > 0 {
		taken.to = pulls[0].End.Minute
		for _, t := range pulls {
			taken.to = max(taken.to, t.End.Minute)
		}
	}
	return taken
}
