package bound

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
)

// A relaxation bounds what it costs to make all that is wanted, by one term.
type relaxation struct {
	name string
	of   func(*instance.Instance) makeBound
}

var ovenRelaxations = []relaxation{
	{"loads by mandrels", loadsByMandrels},
	{"loads by count", loadsByCount},
	{"loads by worth", loadsByWorth},
	{"loads by worth and count", loadsByWorthAndCount},
}

var setupRelaxations = []relaxation{
	{"keys to set up", keysToSetUp},
}

// A relaxed is what a relaxation proves; without a name where that is nothing.
type relaxed struct {
	name string
	makeBound
}

// mostCostly returns what relaxations prove, those first that prove most.
func mostCostly(in *instance.Instance, list []relaxation) (all []relaxed) {
	for _, r := range list {
		b := relaxed{r.name, r.of(in)}
		if b.cost == 0 {
			b.name = ""
		}
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b relaxed) int { return cmp.Compare(b.cost, a.cost) })
	return all
}
