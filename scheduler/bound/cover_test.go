package bound

import (
	"math"
	"testing"
)

// Rolls of 100 are cut into 97 pieces of 45, 610 of 36, 395 of 31 and 211 of 14:
// with parts of rolls, 452.25 are needed (V. Chvátal, "Linear Programming", 1983,
// chapter 13; from memory).
func TestCover_Rolls(t *testing.T) {
	widths, need := []float64{45, 36, 31, 14}, []float64{97, 610, 395, 211}
	var patterns [][]float64
	var cut func(i int, left float64, pattern []float64)
	cut = func(i int, left float64, pattern []float64) {
		if i == len(widths) {
			patterns = append(patterns, append([]float64(nil), pattern...))
			return
		}
		for n := 0.0; n*widths[i] <= left; n++ {
			cut(i+1, left-n*widths[i], append(pattern, n))
		}
	}
	cut(0, 100, nil)
	c := newCover(need, []float64{2, 2, 3, 7}, []float64{1, 1, 1, 1})
	settled(t, c, patterns, 1)
	if math.Abs(c.value()-452.25) > 1e-9 {
		t.Errorf("%.6f rolls, want 452.25", c.value())
	}
}

// No price is below 0, even where columns cover more of something than is needed.
func TestCover_TooMuch(t *testing.T) {
	c := newCover([]float64{1, 10}, []float64{1, 1}, []float64{4, 3})
	settled(t, c, [][]float64{{5, 1}}, 2)
	if want := 20.0; math.Abs(c.value()-want) > 1e-9 || math.Abs(c.price[0]) > 1e-9 {
		t.Errorf("cost %g at prices %v, want %g and nothing for the first", c.value(), c.price, want)
	}
}

// settled lets columns enter until none is worth more than its price.
func settled(t *testing.T, c *cover, columns [][]float64, price float64) {
	t.Helper()
	for range 1000 {
		entered := false
		for _, column := range columns {
			entered = c.enter(column, price) || entered
		}
		if !c.drop() && !entered {
			return
		}
	}
	t.Fatal("no end")
}
