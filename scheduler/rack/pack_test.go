package rack_test

import (
	"testing"

	"blankwright/scheduler/rack"
)

// plain returns a kind of rack with levels of 10 pegs at a pitch of 10 mm.
func plain(kind, count int, tare, maxKg float64, clears ...float64) *rack.Kind {
	k := &rack.Kind{Rack: kind, Count: count, Tare: tare, MaxKg: maxKg}
	for _, clear := range clears {
		k.Levels = append(k.Levels, level(clear, 10, 10))
	}
	return k
}

// runs returns so many pieces of section 0, 1 and so on.
func runs(pieces ...int) (list []rack.Run) {
	for section, n := range pieces {
		list = append(list, rack.Run{Section: section, Pieces: n})
	}
	return list
}

// Each limit of rule R3 holds to its last piece: a load at the limit fits on
// the racks wanted, and one piece more needs another rack or does not fit. A
// short piece hangs 800 mm and takes a peg, a long one 1200 mm and two.
func TestPack_HoldsEachLimit(t *testing.T) {
	short, long := rack.Piece{Hang: 800, Width: 10, Kg: 1}, rack.Piece{Hang: 1200, Width: 20, Kg: 2}
	cases := []struct {
		name  string
		b     bench
		runs  []rack.Run
		racks int // 0: does not fit
	}{
		{"pegs of one rack", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(10), 1},
		{"one piece too many", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(11), 0},
		{"a second rack", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 2, 5, 50, 900)}}, runs(11), 2},
		{"no second bay", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 2, 5, 50, 900)}}, runs(11), 0},
		{"no second rack", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(11), 0},
		{"another type as second", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900), plain(1, 1, 5, 50, 900)}}, runs(11), 2},
		{"too long for the level", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(0, 1), 0},
		{"two pegs a piece", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 1250)}}, runs(0, 5), 1},
		{"two pegs a piece, one too many", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 1250)}}, runs(0, 6), 0},
		{"a rack's weight", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 7, 900)}}, runs(7), 1},
		{"a rack's weight, its tare beside", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 7, 900)}}, runs(8), 0},
		{"the oven's weight with tare", bench{bays: 1, maxKg: 13, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(8), 1},
		{"the oven's weight, one too many", bench{bays: 1, maxKg: 13, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, runs(9), 0},
		{"a lighter rack type", bench{bays: 1, maxKg: 13, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900), plain(1, 1, 4, 50, 900)}}, runs(9), 1},
		{"short below, long above", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900, 1250)}}, runs(10, 5), 1},
		{"short beside long above", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900, 1250)}}, runs(12, 4), 1},
		{"set-ups of one rack exclude each other", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900, 900), plain(0, 1, 5, 50, 1250)}}, runs(11, 1), 0},
		{"two racks, a set-up each", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 2, 5, 50, 900, 900), plain(0, 2, 5, 50, 1250)}}, runs(11, 1), 2},
		{"nothing to hang it on", bench{bays: 2, maxKg: 100}, runs(1), 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.b.pieces = []rack.Piece{short, long}
			racks, ok := c.b.oven().Pack(c.runs)
			if ok != (c.racks > 0) || len(racks) != c.racks {
				t.Fatalf("%d racks, %t; want %d", len(racks), ok, c.racks)
			}
			if ok {
				c.b.judge(t, c.runs, racks)
			}
			if c.b.fits(c.runs) != ok {
				t.Error("trying every way says otherwise")
			}
		})
	}
}

// Of the sets of racks that take a load, one with the fewest racks is taken,
// and of those the lightest.
func TestPack_TakesFewAndLightRacks(t *testing.T) {
	b := bench{
		bays: 3, maxKg: 100, pieces: []rack.Piece{{Hang: 800, Width: 10, Kg: 1}},
		kinds: []*rack.Kind{plain(0, 3, 9, 50, 900), plain(1, 3, 4, 50, 900), plain(2, 1, 30, 50, 900, 900)},
	}
	for pieces, want := range map[int]float64{1: 4, 10: 4, 11: 30, 20: 30, 21: 34} {
		racks, ok := b.oven().Pack(runs(pieces))
		if got := rack.Tare(racks); !ok || got != want {
			t.Errorf("%d pieces hang on racks of %g kg, want %g", pieces, got, want)
		}
	}
}

// Bin packings as one load, their optima found by enumeration: each rack bears the
// capacity, each bay is a bin. Filling rack after rack, the heaviest first, takes
// a bin more than the optimum in the first and the last two, and two more in the
// second, for which Pack gives up before it finds better.
func TestPack_BinPackingExamples(t *testing.T) {
	cases := []struct {
		name       string
		capacity   float64
		kg         []float64
		pieces     []int
		bins, pack int // the optimum, and the fewest bays in which Pack hangs it
	}{
		{"smallest failure of first fit decreasing", 7, []float64{3, 2}, []int{2, 4}, 2, 2},
		{"first fit decreasing 11, optimum 9", 1000, []float64{510, 270, 260, 230}, []int{6, 6, 6, 12}, 9, 11},
		{"L1 says 3, L2 says 4", 10, []float64{6}, []int{4}, 4, 4},
		{"Martello and Toth (from memory), L1 3, L2 4", 100, []float64{70, 60, 50, 33, 11, 7, 3}, []int{1, 1, 1, 3, 1, 1, 1}, 4, 4},
		{"two machines, longest first 7, optimum 6", 6, []float64{3, 2}, []int{2, 3}, 2, 2},
		{"three machines, longest first 11, optimum 9", 9, []float64{5, 4, 3}, []int{2, 2, 3}, 3, 3},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := bench{maxKg: 1e6, kinds: []*rack.Kind{{Count: 20, MaxKg: c.capacity, Levels: []rack.Level{level(1000, 100, 10)}}}}
			for _, kg := range c.kg {
				b.pieces = append(b.pieces, rack.Piece{Hang: 800, Width: 10, Kg: kg})
			}
			for b.bays = 1; b.bays <= 20; b.bays++ {
				if racks, ok := b.oven().Pack(runs(c.pieces...)); ok {
					b.judge(t, runs(c.pieces...), racks)
					break
				}
			}
			if b.bays < c.bins || b.bays != c.pack {
				t.Errorf("hangs in %d bays, want %d; the optimum is %d", b.bays, c.pack, c.bins)
			}
		})
	}
}

// The most of an oven is what any of its sets of racks has: of pegs, and of weight
// by what its racks bear and by what their tare leaves of the oven's.
func TestOven_Most(t *testing.T) {
	cases := []struct {
		name string
		b    bench
		pegs int
		kg   float64
	}{
		{"one rack", bench{bays: 1, maxKg: 100, kinds: []*rack.Kind{plain(0, 1, 5, 50, 900)}}, 10, 50},
		{"a bay for each of two", bench{bays: 2, maxKg: 100, kinds: []*rack.Kind{plain(0, 2, 5, 50, 900)}}, 20, 90},
		{"more levels or a lighter rack", bench{bays: 1, maxKg: 60, kinds: []*rack.Kind{plain(0, 1, 30, 50, 900, 900), plain(1, 1, 5, 50, 900)}}, 20, 50},
		{"no rack", bench{bays: 1, maxKg: 60}, 0, 0},
	}
	for _, c := range cases {
		if pegs, kg := c.b.oven().Most(); pegs != c.pegs || kg != c.kg {
			t.Errorf("%s: %d pegs and %g kg, want %d and %g", c.name, pegs, kg, c.pegs, c.kg)
		}
	}
}
