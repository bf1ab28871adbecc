package carry

import (
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
)

// findShortages tells, once for each load and prepreg, of cut tasks that have
// too little to cut from when they come (rule R12).
func (f *floor) findShortages() {
	for i := range f.s.Prepregs {
		f.findShortage(&f.s.Prepregs[i])
	}
}

// A roll is what is left of one supply.
type roll struct {
	*shop.Supply
	left float64
}

func (f *floor) findShortage(prepreg *shop.Prepreg) {
	rolls := f.rolls(prepreg.ID)
	if rolls == nil {
		return
	}
	told := map[*load]bool{}
	for _, t := range f.inTime(f.cutsToCome(prepreg.ID)) {
		need := float64(t.Pieces) * t.section.M2(prepreg)
		lack := draw(rolls, need, t.start, t.load.cure)
		if lack <= tolerance || told[t.load] {
			continue
		}
		told[t.load] = true
		f.trouble(KindMaterial, t.load, t.index, t.start, fmt.Sprintf(
			"%.2f m2 of prepreg %s are to be cut %s for a cure from %s, and %.2f of it lack",
			need, prepreg.ID, f.clock(t.start), f.clock(t.load.cure), lack),
			fmt.Sprintf("have %.2f m2 there by then that last until the cure", lack))
	}
}

// rolls returns a prepreg's supplies in the order in which they are drawn from;
// nil where there is no end of it.
func (f *floor) rolls(prepreg string) []*roll {
	var rolls []*roll
	for i := range f.s.Supply {
		if row := &f.s.Supply[i]; row.Prepreg == prepreg {
			rolls = append(rolls, &roll{row, row.M2})
		}
	}
	slices.SortStableFunc(rolls, func(a, b *roll) int { return shop.InDrawOrder(a.Supply, b.Supply) })
	return rolls
}

// cutsToCome returns the tasks that will still draw a prepreg. What was begun
// has drawn already.
func (f *floor) cutsToCome(prepreg string) []*task {
	var out []*task
	for _, t := range f.tasks {
		if t != nil && t.Planned.Stage == shop.Cut && t.Planned.Prepreg == prepreg && t.Begun == nil && t.Done == nil && !t.empty() {
			out = append(out, t)
		}
	}
	return out
}

// draw takes an area from the rolls that are there at the start and good until
// the cure, and returns what it lacks.
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
