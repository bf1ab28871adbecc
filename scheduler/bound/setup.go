package bound

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// keysToSetUp counts the keys that must appear at each station and that nothing has
// set up there at the start: neither the last set-up of a position nor released
// work. The first task of each needs a set-up.
func keysToSetUp(in *instance.Instance) (sum Money) {
	pieces := wantedPieces(in)
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Wrap} {
		there := map[int]bool{instance.None: true}
		for _, key := range in.Stations[stage].Last {
			there[key] = true
		}
		for _, t := range in.Released.Tasks {
			if t.Stage == stage {
				there[in.Key(stage, t.Section, t.Prepreg)] = true
			}
		}
		for s, n := range pieces {
			if n == 0 {
				continue
			}
			for _, cut := range in.Sections[s].Cuts {
				if key := in.Key(stage, s, cut.Prepreg); !there[key] {
					there[key] = true
					sum += in.Stations[stage].SetupPrice
				}
			}
		}
	}
	return sum
}
