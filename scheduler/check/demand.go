package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// checkDemand judges R13: lines get no more than they ask for, and sets just
// as they become good.
func (c *checker) checkDemand() {
	sets := map[string]int{}
	byProduct := map[string][]*plan.Allocation{}
	for i := range c.plan.Allocations {
		a := &c.plan.Allocations[i]
		where := fmt.Sprintf("allocations[%d]", i)
		line := c.known.lines[a.Line]
		if !c.possible(a) {
			c.breach("R13", where, "%d sets at %s: it takes at least 1, between now and the horizon", a.Sets, c.at(a.DoneAt.Minute))
			continue
		}
		if sets[line.ID] += a.Sets; sets[line.ID] > line.Quantity && sets[line.ID]-a.Sets <= line.Quantity {
			c.breach("R13", where, "line %s gets %d sets, it asks for %d", line.ID, sets[line.ID], line.Quantity)
		}
		byProduct[line.Product] = append(byProduct[line.Product], a)
	}
	for i := range c.shop.Products {
		product := &c.shop.Products[i]
		c.checkAllocated(product, byProduct[product.ID])
	}
}

// possible reports whether an allocation can be at all: of some sets, at a time
// at which sets can become good. One that can't gives no line anything.
func (c *checker) possible(a *plan.Allocation) bool {
	return a.Sets >= 1 && a.DoneAt.Minute >= c.now && a.DoneAt.Minute <= c.horizon
}

// A gain is pieces of a section, or sets of a line, that come at an instant.
type gain struct {
	at        int64
	section   int // index within the product
	incoming  int // good pieces
	trimmed   int // pieces of which the yield is good
	allocated int // sets
}

// checkAllocated judges that at any time a product's allocated sets are its
// good sets, as far as the plan allocates any.
func (c *checker) checkAllocated(product *shop.Product, allocations []*plan.Allocation) {
	gains := c.gains(product)
	total := 0
	for _, a := range allocations {
		gains = append(gains, gain{at: a.DoneAt.Minute, allocated: a.Sets})
		total += a.Sets
	}
	slices.SortStableFunc(gains, func(a, b gain) int { return cmp.Compare(a.at, b.at) })
	incoming, trimmed := make([]int, len(product.Sections)), make([]int, len(product.Sections))
	allocated := 0
	for i, g := range gains {
		allocated += g.allocated
		incoming[g.section] += g.incoming
		trimmed[g.section] += g.trimmed
		if i+1 < len(gains) && gains[i+1].at == g.at {
			continue
		}
		good := goodSets(product, incoming, trimmed)
		if want := min(good, float64(total)); float64(allocated) != want {
			c.breach("R13", "product "+product.ID, "at %s %d sets are allocated, not %.0f: %.0f are good, %d allocated in all", c.at(g.at), allocated, want, good, total)
			return
		}
	}
}

// gains returns what comes of a product's sections from now on, and nothing
// at now, so that there is a first instant to judge.
func (c *checker) gains(product *shop.Product) []gain {
	gains := []gain{{at: c.now}}
	number := map[string]int{}
	for i := range product.Sections {
		number[product.Sections[i].ID] = i
	}
	for _, in := range c.shop.Incoming {
		if n, ok := number[in.Section]; ok {
			gains = append(gains, gain{at: max(in.At.Minute, c.now), section: n, incoming: in.Pieces})
		}
	}
	for _, t := range c.tasks {
		n, ok := number[t.Section]
		// What released work has trimmed by now is in stock or incoming.
		if !ok || t.Stage != shop.Trim || (t.load.released && t.End.Minute <= c.now) {
			continue
		}
		gains = append(gains, gain{at: max(t.End.Minute, c.now), section: n, trimmed: t.Pieces})
	}
	return gains
}

// goodSets returns how many sets there are of a product, by the incoming and
// the trimmed pieces of each of its sections.
func goodSets(product *shop.Product, incoming, trimmed []int) float64 {
	least := math.Inf(1)
	for i := range product.Sections {
		good := roundDown(product.Sections[i].Yield * float64(trimmed[i]))
		least = min(least, float64(incoming[i])+good)
	}
	return float64(product.Stock) + least
}
