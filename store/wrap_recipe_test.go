package store_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/storetest"
)

// Each section has a recipe for its tape, once somebody has set it.
func TestWrapRecipes(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	terms := store.WrapTerms{PitchMM: 2, TensionN: 30, Passes: 1}
	set := must[store.WrapRecipe](t)
	first := set(b.SetWrapRecipe(t.Context(), "TWO-A", terms, store.MustBeNew))
	if again := set(b.SetWrapRecipe(t.Context(), "TWO-A", terms, 1)); again.Rev != 1 {
		t.Errorf("no change made revision %d", again.Rev)
	}
	want := []store.WrapRecipe{
		{Section: "ONE-A", Product: "ONE", Tape: first.Tape},
		{Section: "TWO-A", Product: "TWO", Tape: first.Tape, WrapTerms: terms, Rev: 1},
		{Section: "TWO-B", Product: "TWO", Tape: first.Tape},
	}
	if diff := cmp.Diff(want, must[[]store.WrapRecipe](t)(b.WrapRecipes(t.Context()))); diff != "" || first.Tape == "" {
		t.Errorf("recipes (-want +got):\n%s", diff)
	}
	_, err := b.SetWrapRecipe(t.Context(), "ONE-A", store.WrapTerms{TensionN: -1}, 0)
	wantPaths(t, "bad recipe", err, "pitch_mm", "tension_n", "passes")
	for name, test := range map[string]struct{ err, want error }{
		"stale":   {second(b.SetWrapRecipe(t.Context(), "TWO-A", terms, 7)), store.ErrStale},
		"not new": {second(b.SetWrapRecipe(t.Context(), "TWO-A", terms, store.MustBeNew)), store.ErrConflict},
		"unknown": {second(b.SetWrapRecipe(t.Context(), "NONE", terms, 0)), store.ErrNotFound},
		"read":    {second(b.WrapRecipe(t.Context(), "NONE")), store.ErrNotFound},
	} {
		if !errors.Is(test.err, test.want) {
			t.Errorf("%s: %v, want %v", name, test.err, test.want)
		}
	}
	if entry := must[[]store.Entry](t)(b.Trail(t.Context(), store.TrailFilter{Of: "TWO-A"})); len(entry) != 1 {
		t.Errorf("the trail has %d entries of it", len(entry))
	}
	balanced(t, b)
}

// Turns are length by pitch, in each pass: 1200 mm at 2 mm are 600 (the helix's
// own formula, N = L / p).
func TestWrapTerms_Turns(t *testing.T) {
	section := &shop.Section{Flags: []shop.Flag{{LengthMM: 300}, {LengthMM: 1200}}}
	for _, one := range []struct {
		terms store.WrapTerms
		want  float64
	}{
		{store.WrapTerms{PitchMM: 2, Passes: 1}, 600},
		{store.WrapTerms{PitchMM: 1.5, Passes: 1}, 800},
		{store.WrapTerms{PitchMM: 2, Passes: 2}, 1200},
	} {
		if got := one.terms.Turns(section); math.Abs(got-one.want) > 1e-9 {
			t.Errorf("%+v: %v turns, want %v", one.terms, got, one.want)
		}
	}
}
