package benchtest_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/shoptest"
)

// The items of a file's problems are as many as the recipe says, between 20 and
// 100, and need no more room than their bins have.
func TestU120(t *testing.T) {
	for _, p := range benchtest.U120(t) {
		if len(p.Sizes) != 120 || p.Capacity != 150 || slices.Min(p.Sizes) < 20 || slices.Max(p.Sizes) > 100 {
			t.Errorf("%s: %d items from %d to %d", p.Name, len(p.Sizes), slices.Min(p.Sizes), slices.Max(p.Sizes))
		}
		if total(p.Sizes) > p.Bins*p.Capacity {
			t.Errorf("%s: %d bins have no room for %d", p.Name, p.Bins, total(p.Sizes))
		}
	}
}

// Triplets fill their bins to the last, and no two problems are alike.
func TestTriplets(t *testing.T) {
	seen := map[int]bool{}
	for seed := range uint64(20) {
		p := benchtest.Triplets(seed)
		if len(p.Sizes) != 60 || slices.Min(p.Sizes) < 250 || slices.Max(p.Sizes) > 500 || total(p.Sizes) != p.Bins*p.Capacity {
			t.Errorf("%s: %d items from %d to %d", p.Name, len(p.Sizes), slices.Min(p.Sizes), slices.Max(p.Sizes))
		}
		digest := 0
		for _, size := range p.Sizes {
			digest = digest*31 + size
		}
		if seen[digest] {
			t.Errorf("%s: the same as another", p.Name)
		}
		seen[digest] = true
	}
}

// A shop asks for one set for each item, of that weight, and its file is accepted.
func TestPacking_Shop(t *testing.T) {
	p := benchtest.Packing{Name: "four", Capacity: 10, Sizes: []int{6, 4, 6, 3}, Bins: 2}
	s := shoptest.Accepted(p.Shop())
	weights := map[float64]int{}
	for i, line := range s.Demand {
		weights[s.Products[i].Sections[0].Kg] += line.Quantity
	}
	if len(weights) != 3 || weights[6] != 2 || weights[4] != 1 || weights[3] != 1 {
		t.Errorf("pieces by weight: %v", weights)
	}
}

func total(sizes []int) (sum int) {
	for _, size := range sizes {
		sum += size
	}
	return sum
}
