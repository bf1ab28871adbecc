package shoptest

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// demand returns the products with their stock, the pieces incoming, and what
// is left of demand, all as of now.
func (a *advance) demand() ([]shop.Product, []shop.Incoming, []shop.Line) {
	lines, taken := a.lines()
	products := slices.Clone(a.s.Products)
	good := a.good()
	var incoming []shop.Incoming
	for i := range products {
		p := &products[i]
		sets := math.MaxInt
		for _, s := range p.Sections {
			sets = min(sets, good[s.ID])
		}
		p.Stock += sets - taken[p.ID]
		for _, s := range p.Sections {
			if spare := good[s.ID] - sets; spare > 0 {
				incoming = append(incoming, shop.Incoming{Section: s.ID, Pieces: spare, At: a.instant(a.now)})
			}
		}
	}
	for _, in := range a.s.Incoming {
		if in.At.Minute > a.now {
			incoming = append(incoming, in)
		}
	}
	return products, incoming, lines
}

// good returns the good pieces by section that the plan counts by now, beyond
// those in the old stock (rule R13).
func (a *advance) good() map[string]int {
	trimmed, good := map[string]int{}, map[string]int{}
	for _, t := range a.p.Tasks {
		counted := a.held[t.Load] && t.End.Minute <= a.s.Now.Minute
		if t.Stage == shop.Trim && t.End.Minute <= a.now && !counted {
			trimmed[t.Section] += t.Pieces
		}
	}
	for id, n := range trimmed {
		good[id] = int(math.Floor(a.section[id].Yield*float64(n) + 1e-6))
	}
	for _, in := range a.s.Incoming {
		if in.At.Minute <= a.now {
			good[in.Section] += in.Pieces
		}
	}
	return good
}

// lines returns what is left of demand, and the sets by product that left it.
func (a *advance) lines() ([]shop.Line, map[string]int) {
	got := map[string]int{}
	for _, g := range a.p.Allocations {
		if g.DoneAt.Minute <= a.now {
			got[g.Line] += g.Sets
		}
	}
	waiting := map[string]bool{} // orders that ship complete and are not
	for _, line := range a.s.Demand {
		if together(&line) && got[line.ID] < line.Quantity {
			waiting[line.Order] = true
		}
	}
	var left []shop.Line
	taken := map[string]int{}
	for _, line := range a.s.Demand {
		if !together(&line) || !waiting[line.Order] {
			taken[line.Product] += got[line.ID]
			line.Quantity -= got[line.ID]
		}
		if line.Quantity > 0 {
			left = append(left, line)
		}
	}
	return left, taken
}

// together reports whether a line's order ships complete.
func together(line *shop.Line) bool { return line.Complete && line.Order != "" }
