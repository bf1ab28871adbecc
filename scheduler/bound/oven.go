package bound

import (
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// loadsByMandrels counts loads. The mandrels of a type bound the pieces that a
// load can hold of it, so its pieces take at least so many loads; types that no
// load can cure together need loads of their own. On top of its loads, each piece
// stretches a cure by its weight.
func loadsByMandrels(in *instance.Instance) makeBound {
	pieces := wantedPieces(in)
	b := newMakeBound(in)
	counts := countByType(in, pieces)
	sort.SliceStable(counts, func(i, j int) bool { return counts[i].cost() > counts[j].cost() })
	var chosen []typeCount
	for _, c := range counts {
		if c.loads > 0 && !clashes(chosen, &c) {
			chosen = append(chosen, c)
			b.cost += c.cost()
			b.slack += c.price
			b.shareOut(in, &c)
		}
	}
	for s, n := range pieces {
		b.add(in, s, n, lagCost(in, s))
	}
	return b
}

// shareOut adds to each product what one of its sets takes of a type's loads.
func (b *makeBound) shareOut(in *instance.Instance, c *typeCount) {
	pool := in.Mandrels[c.mandrel].Total
	for p := range in.Products {
		pieces := 0
		for _, s := range in.Products[p].Sections {
			if in.Sections[s].Mandrel == c.mandrel {
				pieces += perSet(in, s)
			}
		}
		b.credit(p, c.price, pieces, pool)
	}
}

// A typeCount is the loads that the pieces of one mandrel type take, and the
// least that such a load costs.
type typeCount struct {
	mandrel, loads int
	price          Money
	ways           map[instance.Way]bool
}

func (c *typeCount) cost() Money { return Money(c.loads) * c.price }

func countByType(in *instance.Instance, pieces []int) []typeCount {
	counts := make([]typeCount, len(in.Mandrels))
	total := make([]int, len(in.Mandrels))
	for m := range counts {
		counts[m] = typeCount{mandrel: m, price: forbidden, ways: map[instance.Way]bool{}}
	}
	for s, n := range pieces {
		if n == 0 {
			continue
		}
		c := &counts[in.Sections[s].Mandrel]
		total[c.mandrel] += n
		for _, way := range in.Ways(s) {
			c.ways[way] = true
			c.price = min(c.price, leastLoad(in, way, s))
		}
	}
	for m := range counts {
		if pool := in.Mandrels[m].Total; pool > 0 && counts[m].price != forbidden {
			counts[m].loads = (total[m] + pool - 1) / pool
		}
	}
	return counts
}

// leastLoad returns what a load costs that carries a piece of a section, without
// what the pieces' weight adds.
func leastLoad(in *instance.Instance, way instance.Way, section int) Money {
	racks, ok := in.Ovens[way.Oven].Room.Pack([]rack.Run{{Section: section, Pieces: 1}})
	if !ok {
		return forbidden
	}
	o := &in.Ovens[way.Oven]
	minutes := float64(in.CureMinutes(way.Oven, way.Profile, rack.Tare(racks)))
	// The cure minutes are rounded up, the pieces' lag is not: one minute less
	// keeps the sum below.
	return max(0, in.Money(o.RunCost+o.HourCost*max(0, minutes-1)/60)-1)
}

// lagCost returns the least that a piece's weight adds to any load.
func lagCost(in *instance.Instance, section int) Money {
	least := forbidden
	for _, way := range in.Ways(section) {
		o := &in.Ovens[way.Oven]
		least = min(least, in.Money(o.HourCost*o.Lag*in.Hanger.Piece(section).Kg/60)-1)
	}
	if least == forbidden {
		return 0
	}
	return max(0, least)
}

// clashes reports whether a type could share a load with a chosen one: whether
// they have a way in common.
func clashes(chosen []typeCount, c *typeCount) bool {
	for i := range chosen {
		for way := range c.ways {
			if chosen[i].ways[way] {
				return true
			}
		}
	}
	return false
}
