package bound

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// keysToSetUp counts the keys that must appear at each station and that nothing has
// set up there at the start: neither the last set-up of a position nor released
// work. The first task of each needs a set-up.
func keysToSetUp(in *instance.Instance) makeBound {
	b := newMakeBound(in)
	fresh := freshSets(in)
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Wrap} {
		there := keysThere(in, stage)
		for key, sets := range setsByKey(in, stage, fresh) {
			all := 0
			for _, n := range sets {
				all += n
			}
			if all == 0 || there[key] {
				continue
			}
			// The set-up is saved only when all sets that need it are.
			price := in.Stations[stage].SetupPrice
			b.cost += price
			for p, n := range sets {
				if n > 0 {
					b.share[p] += share(price, 1, all)
					b.whole[p] += share(price, 1, all)
				}
			}
		}
	}
	return b
}

// keysThere returns the keys that a station's first tasks may find.
func keysThere(in *instance.Instance, stage shop.Stage) map[int]bool {
	there := map[int]bool{}
	for _, key := range in.Stations[stage].Last {
		there[key] = true
	}
	for _, t := range in.Released.Tasks {
		if t.Stage == stage {
			there[in.Key(stage, t.Section, t.Prepreg)] = true
		}
	}
	return there
}

// freshSets returns, by section, how many of the sets that are to be made need a
// new piece of it.
func freshSets(in *instance.Instance) []int {
	fresh := make([]int, len(in.Sections))
	for p := range in.Products {
		sets := toMake(in, p)
		for _, s := range in.Products[p].Sections {
			fresh[s] = max(0, sets-in.Standing(s))
		}
	}
	return fresh
}

// setsByKey returns, by key and product, how many sets must be left out so that no
// new piece needs the key at a stage.
func setsByKey(in *instance.Instance, stage shop.Stage, fresh []int) [][]int {
	keys := map[shop.Stage]int{shop.Cut: len(in.Prepregs), shop.Tack: len(in.Mandrels), shop.Wrap: len(in.Shop.Tapes)}
	sets := make([][]int, keys[stage])
	for key := range sets {
		sets[key] = make([]int, len(in.Products))
	}
	for s, n := range fresh {
		for _, cut := range in.Sections[s].Cuts {
			by := sets[in.Key(stage, s, cut.Prepreg)]
			p := in.Sections[s].Product
			by[p] = max(by[p], n)
		}
	}
	return sets
}
