package bound

import (
	"math"
	"slices"

	"blankwright/scheduler/instance"
)

// loadsByCount counts the loads that pieces need as bins: by the pegs that clear a
// height, or by weight. Sections that no load can cure together, not even by way
// of others, are counted apart. On top of its loads, each piece stretches a cure
// by its weight.
func loadsByCount(in *instance.Instance) makeBound {
	c := newLoadCount(in)
	b := newMakeBound(in)
	for _, group := range c.groups() {
		price, most := c.best(group)
		b.cost += Money(most.bins) * price
		b.slack += price
		c.shareOut(&b, group, price, &most)
	}
	for s, n := range c.need {
		b.add(in, s, n, lagCost(in, s))
	}
	return b
}

// shareOut adds to each product what one of its sets takes of a group's loads.
func (c *loadCount) shareOut(b *makeBound, group []int, price Money, count *binCount) {
	parts := make([]Money, len(c.in.Products))
	for _, s := range group {
		p := c.in.Sections[s].Product
		parts[p] = plus(parts[p], share(Money(count.parts[s]), perSet(c.in, s), 1))
	}
	for p, part := range parts {
		b.credit(p, price, int(part), count.whole)
	}
}

type loadCount struct {
	in    *instance.Instance
	kinds []loadKind
	h     heights
	need  []int
	ways  []map[instance.Way]bool // by section
}

func newLoadCount(in *instance.Instance) *loadCount {
	c := &loadCount{in: in, need: wantedPieces(in), ways: make([]map[instance.Way]bool, len(in.Sections))}
	c.kinds, c.h = loadKinds(in)
	for s := range c.ways {
		c.ways[s] = map[instance.Way]bool{}
		for i := range c.kinds {
			if c.kinds[i].racks.take[s] > 0 && in.Sections[s].Profiles[c.kinds[i].way.Profile] {
				c.ways[s][c.kinds[i].way] = true
			}
		}
	}
	return c
}

// groups returns the sections that are needed, those together that share a way or
// are linked by others that do.
func (c *loadCount) groups() (groups [][]int) {
	for s, n := range c.need {
		if n == 0 || len(c.ways[s]) == 0 {
			continue
		}
		joined := []int{s}
		var apart [][]int
		for _, group := range groups {
			if slices.ContainsFunc(group, func(other int) bool { return c.together(s, other) }) {
				joined = append(joined, group...)
			} else {
				apart = append(apart, group)
			}
		}
		groups = append(apart, joined)
	}
	return groups
}

func (c *loadCount) together(a, b int) bool {
	for way := range c.ways[a] {
		if c.ways[b][way] {
			return true
		}
	}
	return false
}

// best returns the least price of a load of a group, and the count of its loads
// by the limit that proves most.
func (c *loadCount) best(group []int) (price Money, most binCount) {
	price = forbidden
	kg := 0.0
	pegs := make([]int, len(c.h))
	least := make([]int, len(c.need)) // by section: the fewest pegs of a piece
	for i := range c.kinds {
		k := &c.kinds[i]
		if !slices.ContainsFunc(group, func(s int) bool { return c.ways[s][k.way] && k.racks.take[s] > 0 }) {
			continue
		}
		price, kg = min(price, k.price), max(kg, k.racks.kg)
		for j := range pegs {
			pegs[j] = max(pegs[j], k.racks.pegs[j])
		}
		for _, s := range group {
			least[s] = fewer(least[s], k.racks.take[s])
		}
	}
	most = countBins(c.items(group, 0, c.milligrams), int(math.Ceil(min(kg, maxKg)*perKg)))
	for j, room := range pegs {
		n := countBins(c.items(group, j, func(s int) int { return least[s] }), room)
		if n.bins > most.bins {
			most = n
		}
	}
	return price, most
}

// Weights are counted in whole milligrams: pieces' rounded down, room's up.
const (
	perKg = 1e6
	maxKg = 1e12
)

func (c *loadCount) milligrams(section int) int {
	return int(min(c.in.Hanger.Piece(section).Kg, maxKg) * perKg)
}

// items returns the pieces of those sections that no lower level clears.
func (c *loadCount) items(group []int, height int, size func(section int) int) (items []binItem) {
	for _, s := range group {
		if c.h.of(c.in.Hanger.Piece(s)) >= height {
			items = append(items, binItem{s, size(s), c.need[s]})
		}
	}
	return items
}
