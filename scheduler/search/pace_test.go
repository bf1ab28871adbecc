package search

import "testing"

// A heat is as far as its iterations, or as its time less the lead where that is
// further on; what was spent before the search does not count.
func TestPace(t *testing.T) {
	spent := 0.2
	p := newPace(func() float64 { return spent })
	p.next(0.1)
	p.next(0.9) // from 0.1 to 1
	for _, c := range []struct {
		spent, done, want float64
		hurried           bool
	}{
		{0.2, 0, 0, false},
		{0.36, 0.5, 0.5, false}, // a fifth of what was left: a ninth of the heat
		{0.64, 0.5, 0.5, false}, // 0.45 over 0.9
		{0.92, 0.5, 0.7888889, true},
		{1, 0.5, 0.9, true},
	} {
		spent = c.spent
		if got := p.of(c.done); got < c.want-1e-6 || got > c.want+1e-6 || p.hurried.Load() != c.hurried {
			t.Errorf("after %g of the time and %g of the iterations: %g, hurried %t; want %g, %t",
				c.spent, c.done, got, p.hurried.Load(), c.want, c.hurried)
		}
	}
}

// Without a time, iterations alone count.
func TestPace_NoLimit(t *testing.T) {
	p := newPace(nil)
	p.next(1)
	if got := p.of(0.3); got != 0.3 || p.hurried.Load() {
		t.Errorf("%g, hurried %t; want 0.3", got, p.hurried.Load())
	}
}
