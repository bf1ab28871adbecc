package bound_test

import (
	"math"
	"testing"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shoptest"
)

// The bound of twenty bin packing problems of the OR-Library (u120) is their
// optimum.
func TestOf_U120(t *testing.T) {
	for _, p := range benchtest.U120(t) {
		expectBins(t, p)
	}
}

// The bound of twenty problems made of triplets is their optimum.
func TestOf_Triplets(t *testing.T) {
	for seed := range uint64(20) {
		expectBins(t, benchtest.Triplets(seed))
	}
}

func expectBins(t *testing.T, p benchtest.Packing) {
	t.Helper()
	in := instance.New(shoptest.Accepted(p.Shop()))
	if got := in.Price(bound.Of(in).Total()); math.Abs(got-float64(p.Bins)) > 1e-6 {
		t.Errorf("%s: bound %g, want %d", p.Name, got, p.Bins)
	}
}
