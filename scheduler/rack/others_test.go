package rack_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/rack"
)

// types returns the racks' types, sorted.
func types(racks []rack.Rack) (list []int) {
	for _, r := range racks {
		list = append(list, r.Kind.Rack)
	}
	slices.Sort(list)
	return list
}

// Other ways to hang a load are as good as that which Pack finds: they keep rule R3,
// carry the whole load on as many racks, and no two are on the same types.
func TestOthers_AreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, load := small(t)
		o := b.oven()
		racks, ok := o.Pack(load)
		if !ok {
			t.Skip("does not fit")
		}
		seen := [][]int{types(racks)}
		for _, way := range o.Others(load, racks) {
			b.judge(t, load, way)
			if len(way) != len(racks) {
				t.Errorf("%d racks in the place of %d", len(way), len(racks))
			}
			if slices.ContainsFunc(seen, func(other []int) bool { return slices.Equal(other, types(way)) }) {
				t.Errorf("racks of types %v a second time", types(way))
			}
			seen = append(seen, types(way))
		}
	})
}

// A load that one tall rack or one short one takes has two ways; one too long for
// the short rack has one.
func TestOthers(t *testing.T) {
	b := bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 1250), plain(1, 1, 5, 50, 900)}}
	b.pieces = []rack.Piece{{Hang: 800, Width: 10, Kg: 1}, {Hang: 1200, Width: 10, Kg: 1}}
	for _, c := range []struct {
		load []rack.Run
		want int
	}{{runs(2), 1}, {runs(0, 2), 0}} {
		racks, ok := b.oven().Pack(c.load)
		if !ok {
			t.Fatalf("%v does not fit", c.load)
		}
		if ways := b.oven().Others(c.load, racks); len(ways) != c.want {
			t.Errorf("%d other ways to hang %v, want %d", len(ways), c.load, c.want)
		}
	}
}
