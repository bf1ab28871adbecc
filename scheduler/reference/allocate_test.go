package reference_test

import (
	"math"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// allocate gives the lines their sets, each as it becomes good.
func (r *reader) allocate() {
	for p := range r.s.Products {
		good := r.goodSets(p)
		for n, line := range r.takers(&r.s.Products[p]) {
			r.plan.Allocations = append(r.plan.Allocations, plan.Allocation{Line: line, Sets: 1, DoneAt: r.instant(good[n])})
		}
	}
}

// takers lists the lines that get a product's sets, in the order of days.
func (r *reader) takers(product *shop.Product) (ids []string) {
	for d := range r.days() {
		for _, l := range r.lines {
			if l.Product == product.ID {
				ids = append(ids, slices.Repeat([]string{l.ID}, r.v.of(rise(l.given, d)))...)
			}
		}
	}
	return ids
}

// goodSets returns the slots at which a product's sets become good.
func (r *reader) goodSets(product int) (slots []int) {
	for t := range r.end + 1 {
		sets := math.MaxInt
		for _, s := range r.sections {
			if s.product == product {
				sets = min(sets, r.s.Products[product].Stock+r.goodPieces(s, t))
			}
		}
		for len(slots) < sets {
			slots = append(slots, t)
		}
	}
	return slots
}

// goodPieces counts the good pieces of a section that come from now up to a slot.
func (r *reader) goodPieces(s *section, slot int) (n int) {
	trimmed := 0
	for i := range r.plan.Tasks {
		task := &r.plan.Tasks[i]
		if end := r.slot(task.End); task.Stage == shop.Trim && task.Section == s.ID && 0 < end && end <= slot {
			trimmed += task.Pieces
		}
	}
	for _, in := range r.s.Incoming {
		if in.Section == s.ID && r.since(&in.At) <= slot {
			n += in.Pieces
		}
	}
	return n + int(math.Floor(s.Yield*float64(trimmed)+1e-6))
}
