package bound

import (
	"math"

	"blankwright/scheduler/instance"
)

// loadsByCount counts the loads that pieces need as bins: by the pegs that clear a
// height, by weight, or by mandrels. Sections that no load can cure together, not
// even by way of others, are counted apart. On top of its loads, each piece
// stretches a cure by its weight.
func loadsByCount(in *instance.Instance) makeBound {
	f := newLoadFloor(in)
	b := newMakeBound(in)
	for g := range f.groups {
		most := f.bins(g)
		f.charge(&b, g, f.cheapest(g), &most)
	}
	for s, n := range f.need {
		b.add(in, s, n, lagCost(in, s))
	}
	return b
}

// charge adds a price for each of a group's loads.
func (f *loadFloor) charge(b *makeBound, group int, price Money, count *binCount) {
	b.cost += Money(count.bins) * price
	b.slack += price
	parts := make([]Money, len(f.in.Products))
	for _, s := range f.groups[group] {
		p := f.in.Sections[s].Product
		parts[p] = plus(parts[p], share(Money(count.parts[s]), perSet(f.in, s), 1))
	}
	for p, part := range parts {
		b.credit(p, price, int(part), count.whole)
	}
}

// counts returns, by group, the most loads that are proven, in any way.
func (f *loadFloor) counts() (counts []binCount) {
	const whole = 1e9
	one := make([]Money, len(f.kinds))
	for i := range one {
		one[i] = whole
	}
	worth := newLoadProgramme(f, one, nil).solved()
	for g, sections := range f.groups {
		most := f.bins(g)
		var parts []binItem
		for _, s := range sections {
			parts = append(parts, binItem{s, int(worth[s]), f.need[s]})
		}
		if n := weighed(parts, whole, func(size int) int { return size }); n.bins > most.bins {
			most = n
		}
		counts = append(counts, most)
	}
	return counts
}

// bins counts a group's loads by the limit that proves most.
func (f *loadFloor) bins(group int) (most binCount) {
	kg := 0.0
	pegs := make([]int, len(f.heights))
	least := make([]int, len(f.need)) // by section: the fewest pegs of a piece
	for i := range f.kinds {
		if f.groupOf[i] != group {
			continue
		}
		racks := f.kinds[i].racks
		kg = max(kg, racks.kg)
		for j := range pegs {
			pegs[j] = max(pegs[j], racks.pegs[j])
		}
		for _, s := range f.groups[group] {
			least[s] = fewer(least[s], racks.take[s])
		}
	}
	try := func(items []binItem, room int) {
		if n := countBins(items, room); n.bins > most.bins {
			most = n
		}
	}
	try(f.items(group, f.all, f.milligrams), int(math.Ceil(min(kg, maxKg)*perKg)))
	for j, room := range pegs {
		longer := func(s int) bool { return f.heights.of(f.in.Hanger.Piece(s)) >= j }
		try(f.items(group, longer, func(s int) int { return least[s] }), room)
	}
	for m := range f.in.Mandrels {
		on := func(s int) bool { return f.in.Sections[s].Mandrel == m }
		try(f.items(group, on, func(int) int { return 1 }), f.in.Mandrels[m].Total)
	}
	return most
}

// Weights are counted in whole milligrams: pieces' rounded down, room's up.
const (
	perKg = 1e6
	maxKg = 1e12
)

func (f *loadFloor) milligrams(section int) int {
	return int(min(f.in.Hanger.Piece(section).Kg, maxKg) * perKg)
}

func (f *loadFloor) all(int) bool { return true }

// items returns the pieces of some of a group's sections, each of a size.
func (f *loadFloor) items(group int, which func(section int) bool, size func(section int) int) (items []binItem) {
	for _, s := range f.groups[group] {
		if which(s) {
			items = append(items, binItem{s, size(s), f.need[s]})
		}
	}
	return items
}
