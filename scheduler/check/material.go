package check

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// A roll is what is left of one supply.
type roll struct {
	*shop.Supply
	left float64
}

// checkMaterial judges R12: no cut task lacks prepreg.
func (c *checker) checkMaterial() {
	for i := range c.shop.Prepregs {
		prepreg := &c.shop.Prepregs[i]
		rolls := c.rolls(prepreg.ID)
		if rolls == nil {
			continue
		}
		for _, t := range c.cutsInOrder(prepreg.ID) {
			need := float64(t.Pieces) * pieceArea(t.section, prepreg)
			lack := draw(rolls, need, t.Start.Minute, t.load.CureStart.Minute)
			if !t.load.released && exceeds(lack, 0) {
				c.breach("R12", t.where(), "lacks %.6f of %.6f m2 of prepreg %s", lack, need, prepreg.ID)
			}
		}
	}
}

// rolls returns a prepreg's supplies in the order in which they are drawn
// from; nil where there is no end of it.
func (c *checker) rolls(prepreg string) []*roll {
	var rolls []*roll
	for i := range c.shop.Supply {
		if s := &c.shop.Supply[i]; s.Prepreg == prepreg {
			rolls = append(rolls, &roll{Supply: s, left: s.M2})
		}
	}
	slices.SortStableFunc(rolls, func(a, b *roll) int {
		return cmp.Or(cmp.Compare(a.Expires.Minute, b.Expires.Minute), cmp.Compare(a.From.Minute, b.From.Minute))
	})
	return rolls
}

// cutsInOrder returns the cut tasks that draw a prepreg, by start (ties: the
// plan's order). What released tasks cut before now is gone already.
func (c *checker) cutsInOrder(prepreg string) []*task {
	var cuts []*task
	for _, t := range c.tasks {
		if t.Stage == shop.Cut && t.Prepreg == prepreg && !(t.load.released && t.Start.Minute < c.now) {
			cuts = append(cuts, t)
		}
	}
	slices.SortStableFunc(cuts, func(a, b *task) int { return cmp.Compare(a.Start.Minute, b.Start.Minute) })
	return cuts
}

// pieceArea returns the square metres of a prepreg that one piece uses.
func pieceArea(section *shop.Section, prepreg *shop.Prepreg) float64 {
	var mm2 float64
	for _, flag := range section.Flags {
		if flag.Prepreg == prepreg.ID {
			mm2 += flag.LengthMM * (flag.ButtMM + flag.TipMM) / 2
		}
	}
	return mm2 / 1e6 / prepreg.NestYield
}

// draw takes an area from the rolls that are there at the start and good
// until the cure, and returns what it lacks.
func draw(rolls []*roll, need float64, start, cure int64) float64 {
	for _, r := range rolls {
		if r.From.Minute <= start && r.Expires.Minute >= cure {
			part := min(need, r.left)
			r.left -= part
			need -= part
		}
	}
	return need
}
