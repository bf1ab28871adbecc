package rack_test

import (
	"math"
	"testing"

	"blankwright/scheduler/rack"
)

// level returns a level without limits but those given.
func level(clear float64, pegs int, pitch float64) rack.Level {
	return rack.Level{Clear: clear, Pegs: pegs, Pitch: pitch}
}

// A piece takes as many pegs as its width covers at the level's pitch, at least
// one, and none where it hangs longer than the level clears.
func TestHanger_Pegs(t *testing.T) {
	kind := &rack.Kind{Count: 1, MaxKg: 100, Levels: []rack.Level{level(900, 20, 25), level(1250, 10, 12.5)}}
	cases := []struct {
		name        string
		hang, width float64
		low, high   int // pegs on the two levels
	}{
		{"narrower than the pitch", 800, 10, 1, 1},
		{"as wide as the pitch", 800, 25, 1, 2},
		{"a little wider", 800, 25.1, 2, 3},
		{"no width", 800, 0, 1, 1},
		{"wider by the tolerance of its pegs", 800, 25 + 12.5*9e-7, 1, 2},
		{"wider by more than that", 800, 25 + 25*3e-6, 2, 3},
		{"as long as the lower level clears", 900, 25, 1, 2},
		{"longer than the lower level clears", 900.01, 25, 0, 2},
		{"longer than both clear", 1300, 25, 0, 0},
	}
	for _, c := range cases {
		h := rack.NewHanger([]*rack.Kind{kind}, []rack.Piece{{Hang: c.hang, Width: c.width}})
		if low, high := h.Pegs(0, kind, 0), h.Pegs(0, kind, 1); low != c.low || high != c.high {
			t.Errorf("%s: %d and %d pegs, want %d and %d", c.name, low, high, c.low, c.high)
		}
	}
}

// Weights are those of the pieces, and of the racks alone.
func TestHanger_KgAndTare(t *testing.T) {
	short, long := &rack.Kind{Tare: 12.5}, &rack.Kind{Rack: 1, Tare: 20}
	h := rack.NewHanger([]*rack.Kind{short, long}, []rack.Piece{{Kg: 0.25}, {Kg: 0.4}})
	// 4 × 0.25 + 3 × 0.4 = 2.2
	if kg := h.Kg([]rack.Run{{Section: 0, Pieces: 4}, {Section: 1, Pieces: 3}}); math.Abs(kg-2.2) > 1e-12 {
		t.Errorf("the runs weigh %g kg, want 2.2", kg)
	}
	// 12.5 + 20 + 20 = 52.5
	if kg := rack.Tare([]rack.Rack{{Kind: short}, {Kind: long}, {Kind: long}}); kg != 52.5 {
		t.Errorf("the racks weigh %g kg, want 52.5", kg)
	}
	if h.Piece(1).Kg != 0.4 {
		t.Errorf("a piece of the second section weighs %g kg, want 0.4", h.Piece(1).Kg)
	}
}

// A section's least pegs are those on the level that suits it best, whichever rack
// has it; 0 where it hangs too long for all.
func TestHanger_LeastPegs(t *testing.T) {
	kinds := []*rack.Kind{{Levels: []rack.Level{level(900, 10, 10)}}, {Levels: []rack.Level{level(1250, 10, 5), level(900, 10, 20)}}}
	h := rack.NewHanger(kinds, []rack.Piece{{Hang: 800, Width: 40}, {Hang: 1200, Width: 40}, {Hang: 1300, Width: 40}})
	for section, want := range []int{2, 8, 0} {
		if got := h.LeastPegs(section); got != want {
			t.Errorf("section %d takes %d pegs, want %d", section, got, want)
		}
	}
}
