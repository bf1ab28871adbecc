package bound_test

import (
	"math"
	"testing"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// The bound of twenty bin packing problems of the OR-Library (u120) is their
// optimum.
func TestOf_U120(t *testing.T) {
	for i, p := range benchtest.U120(t) {
		if i%thorough.Of(3, 1) == 0 {
			expectBins(t, p)
		}
	}
}

// The bound of twenty problems made of triplets is their optimum.
func TestOf_Triplets(t *testing.T) {
	for seed := range thorough.Of[uint64](6, 20) {
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

// What is proven of parallel batch machines with families is never above the
// optimum, and near it.
func TestInTime_Chiang(t *testing.T) {
	every, share := thorough.Of(16, 8), 0.94 // of the problems, and of their optima's sum
	sum, least := 0.0, 0.0
	for i, p := range benchtest.Chiang(t) {
		if i%every != 0 {
			continue
		}
		in := instance.New(shoptest.Accepted(p.Shop()))
		low := in.Price(bound.InTime(in).Total())
		if low > p.Least+1e-6 {
			t.Errorf("%s: bound %g, optimum %g", p.Name, low, p.Least)
		}
		sum, least = sum+low, least+p.Least
	}
	if sum < least*share {
		t.Errorf("the bounds make %g, the optima %g", sum, least)
	}
}

// Two jobs at a time on one machine, families of 4 and of 6 days: 280 is
// the least sum of weighted completion times (A's jobs of weight 5, 3, 2 and 1, B's
// of 9, 4 and 4), and 20 the least weighted tardiness of other jobs. Both were found
// by trying everything; nothing proves as much by prices alone.
func TestInTime_Batches(t *testing.T) {
	type jobs = []benchtest.FamilyJob
	cases := []struct {
		jobs      jobs
		least, by float64
	}{
		{jobs{{Weight: 5}, {Weight: 3}, {Weight: 2}, {Weight: 1}, {Family: 1, Weight: 9}, {Family: 1, Weight: 4}, {Family: 1, Weight: 4}}, 280, 250},
		{jobs{
			{Due: 4, Weight: 3},
			{Due: 5, Weight: 1},
			{Due: 12, Weight: 2},
			{Family: 1, Due: 6, Weight: 2},
			{Family: 1, Due: 6, Weight: 2},
			{Family: 1, Due: 20, Weight: 1},
		}, 20, 13.9},
	}
	for _, c := range cases {
		p := benchtest.Batching{Name: "two at a time", Machines: 1, Most: 2, Days: []int{4, 6}, Jobs: c.jobs}
		in := instance.New(shoptest.Accepted(p.Shop()))
		if low := in.Price(bound.InTime(in).Total()); low > c.least+1e-6 || low < c.by {
			t.Errorf("bound %g, optimum %g", low, c.least)
		}
	}
}
