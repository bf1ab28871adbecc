package bound

import "testing"

// Bins are counted as by hand: by size alone (L1), and by what leaves no room for
// others (L2).
func TestCountBins(t *testing.T) {
	cases := []struct {
		name     string
		capacity int
		sizes    []int
		l1, l2   int
	}{
		{"nothing", 10, nil, 0, 0},
		{"no room", 0, []int{0}, 0, 0},
		{"one that fills its bin", 10, []int{10}, 1, 1},
		// The smallest case in which filling first what is largest fails.
		{"two bins to the last", 7, []int{3, 3, 2, 2, 2, 2}, 2, 2},
		{"above half", 10, []int{6, 6, 6, 6}, 3, 4},
		{"just half", 10, []int{5, 5, 5, 5}, 2, 2},
		// The example of Martello and Toth's book, "Knapsack Problems", 1990.
		{"large and small", 100, []int{70, 60, 50, 33, 33, 33, 11, 7, 3}, 3, 4},
		{"nine to the last", 1000, repeated(6, 510, 6, 270, 6, 260, 12, 230), 9, 9},
	}
	for _, c := range cases {
		var items []binItem
		for section, size := range c.sizes {
			items = append(items, binItem{section, size, 1})
		}
		if got := countBins(items, c.capacity).bins; got != c.l2 {
			t.Errorf("%s: %d bins, want %d", c.name, got, c.l2)
		}
		if c.capacity == 0 {
			continue
		}
		if got := weighed(items, c.capacity, func(size int) int { return bySize(size, 0, c.capacity) }).bins; got != c.l1 {
			t.Errorf("%s: %d bins by size, want %d", c.name, got, c.l1)
		}
	}
}

// repeated returns so many times a size, and so on.
func repeated(timesAndSizes ...int) (sizes []int) {
	for ; len(timesAndSizes) > 0; timesAndSizes = timesAndSizes[2:] {
		for range timesAndSizes[0] {
			sizes = append(sizes, timesAndSizes[1])
		}
	}
	return sizes
}
