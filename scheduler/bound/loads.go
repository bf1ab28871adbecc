package bound

import (
	"slices"

	"blankwright/scheduler/instance"
)

// A loadKind is an oven with a profile and a set of racks. No load of its kind
// costs less than its price, beside what its pieces' weight adds.
type loadKind struct {
	way   instance.Way
	racks *racking
	price Money
}

// loadKinds returns the kinds of loads there are, those of one way together.
func loadKinds(in *instance.Instance) (kinds []loadKind, h heights) {
	h = heightsOf(in)
	var takes [][]int
	for o := range in.Ovens {
		sets := rackings(in, h, in.Ovens[o].Room)
		for i := range sets {
			takes = sets[i].ranked(takes)
		}
		for _, p := range in.Ovens[o].Profiles {
			for i := range sets {
				way := instance.Way{Oven: o, Profile: p}
				kinds = append(kinds, loadKind{way, &sets[i], emptyLoad(in, way, sets[i].tare)})
			}
		}
	}
	return kinds, h
}

// emptyLoad returns what a load costs with racks of some weight, rounded down.
func emptyLoad(in *instance.Instance, way instance.Way, tare float64) Money {
	o := &in.Ovens[way.Oven]
	minutes := max(0, in.CureSpan(way.Oven, way.Profile, tare)-epsilon)
	return max(0, in.Money(o.RunCost+o.HourCost*minutes/60)-1)
}

// A loadFloor is what loads there can be for the pieces that are wanted. A group is
// sections that share a way, or are linked by others that do: no load holds pieces
// of two groups.
type loadFloor struct {
	in      *instance.Instance
	heights heights
	kinds   []loadKind
	need    []int   // by section: pieces
	groups  [][]int // of sections
	groupOf []int   // by kind of load; below 0 where it holds nothing that is needed
}

func newLoadFloor(in *instance.Instance) *loadFloor {
	f := &loadFloor{in: in, need: wantedPieces(in)}
	f.kinds, f.heights = loadKinds(in)
	for i := range f.kinds {
		f.join(&f.kinds[i])
	}
	for i := range f.kinds {
		f.groupOf = append(f.groupOf, slices.IndexFunc(f.groups, func(group []int) bool { return f.holdsAny(&f.kinds[i], group) }))
	}
	return f
}

// needed returns the sections that are needed and can be cured.
func (f *loadFloor) needed() (sections []int) {
	for _, group := range f.groups {
		sections = append(sections, group...)
	}
	return sections
}

// prices returns the price of each kind of load.
func (f *loadFloor) prices() (prices []Money) {
	for i := range f.kinds {
		prices = append(prices, f.kinds[i].price)
	}
	return prices
}

// cheapest returns the least price of a group's loads.
func (f *loadFloor) cheapest(group int) Money {
	least := forbidden
	for i, g := range f.groupOf {
		if g == group {
			least = min(least, f.kinds[i].price)
		}
	}
	return least
}

// join makes one group of all sections that a kind of loads holds.
func (f *loadFloor) join(k *loadKind) {
	var joined []int
	for s, n := range f.need {
		if n > 0 && f.holds(k, s) {
			joined = append(joined, s)
		}
	}
	if len(joined) == 0 {
		return
	}
	var apart [][]int
	for _, group := range f.groups {
		if !slices.ContainsFunc(group, func(s int) bool { return slices.Contains(joined, s) }) {
			apart = append(apart, group)
			continue
		}
		for _, s := range group {
			if !slices.Contains(joined, s) {
				joined = append(joined, s)
			}
		}
	}
	f.groups = append(apart, joined)
}

func (f *loadFloor) holds(k *loadKind, section int) bool {
	return k.racks.take[section] > 0 && f.in.Sections[section].Profiles[k.way.Profile]
}

func (f *loadFloor) holdsAny(k *loadKind, sections []int) bool {
	return slices.ContainsFunc(sections, func(s int) bool { return f.holds(k, s) })
}
