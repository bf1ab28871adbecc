package bound

import (
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
