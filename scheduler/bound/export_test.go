package bound

import "blankwright/scheduler/instance"

// A Relaxed is what a relaxation says of the loads, or of the set-ups, that are
// not released.
type Relaxed struct {
	Name string
	make makeBound
}

// RelaxedOvens returns what each relaxation says of an instance's ovens.
func RelaxedOvens(in *instance.Instance) []Relaxed { return export(mostCostly(in, ovenRelaxations)) }

// RelaxedSetups returns what each relaxation says of an instance's set-ups.
func RelaxedSetups(in *instance.Instance) []Relaxed { return export(mostCostly(in, setupRelaxations)) }

func export(list []relaxed) (all []Relaxed) {
	for _, r := range list {
		all = append(all, Relaxed{r.name, r.makeBound})
	}
	return all
}

// Less returns what is left of a bound when so many sets of each product are not
// made, said in either way.
func (r *Relaxed) Less(missing []int, whole bool) Money {
	each, once := r.make.credits(whole)
	low, some := r.make.cost, false
	for product, sets := range missing {
		low -= Money(sets) * each[product]
		some = some || sets > 0
	}
	if some {
		low -= once
	}
	return low
}

// Wanted returns how many sets of a product are wanted and can be made.
func Wanted(in *instance.Instance, product int) int { return toMake(in, product) }

// InTime returns what is proven of late and oven cost together.
func InTime(in *instance.Instance) Proof {
	keys := mostCostly(in, setupRelaxations)[0]
	return loadsInTime(in, &relaxed{makeBound: loadsByWorth(in)}, &keys, 0)
}
