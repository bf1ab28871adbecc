package line_test

import (
	"testing"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// In an empty shop an eager load goes in when any other would, and is cut no
// later; in most shops, where there is time before the oven start, sooner.
func TestPlace_EagerCutsSooner(t *testing.T) {
	sooner, all := 0, 0
	for seed := range uint64(60) {
		in := instance.New(shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Pieces: 30})))
		usual, eager := alone(in, false), alone(in, true)
		if usual == nil || eager == nil {
			continue
		}
		if usual.In != eager.In {
			t.Errorf("shop %d: the eager load goes in at %d, not %d", seed, eager.In, usual.In)
		}
		first, eagerFirst := firstCut(usual), firstCut(eager)
		if eagerFirst > first {
			t.Errorf("shop %d: the eager load is cut from %d on, the other from %d", seed, eagerFirst, first)
		}
		all++
		if eagerFirst < first {
			sooner++
		}
	}
	if all < 20 || 2*sooner < all {
		t.Errorf("sooner in %d of %d shops", sooner, all)
	}
}

// alone places a load of three pieces five days from now in a shop's empty
// timetable; nil where it finds no place.
func alone(in *instance.Instance, eager bool) *line.Load {
	for section := range in.Sections {
		for _, way := range in.Ways(section) {
			l, ok := line.NewLoad(in, 1, way.Oven, way.Profile, []rack.Run{{Section: section, Pieces: 3}})
			if !ok {
				continue
			}
			l.Target, l.Eager = 5*1440, eager
			if line.New(in).Place(l) {
				return l
			}
		}
	}
	return nil
}

func firstCut(l *line.Load) line.Tick {
	first := instance.Never
	for i := range l.Tasks {
		if l.Tasks[i].Stage == shop.Cut {
			first = min(first, l.Tasks[i].Start)
		}
	}
	return first
}
