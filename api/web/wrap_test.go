package web

import (
	"math"
	"testing"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// Turns are length by pitch, in each pass: 1200 mm at 2 mm are 600 (the helix's
// own formula, N = L / p).
func TestTurnsOf(t *testing.T) {
	section := &shop.Section{Flags: []shop.Flag{{LengthMM: 300}, {LengthMM: 1200}}}
	for _, one := range []struct {
		terms store.WrapTerms
		want  float64
	}{
		{store.WrapTerms{PitchMM: 2, Passes: 1}, 600},
		{store.WrapTerms{PitchMM: 1.5, Passes: 1}, 800},
		{store.WrapTerms{PitchMM: 2, Passes: 2}, 1200},
	} {
		if got := turnsOf(section, &one.terms); math.Abs(got-one.want) > 1e-9 {
			t.Errorf("%+v: %v turns, want %v", one.terms, got, one.want)
		}
	}
}
