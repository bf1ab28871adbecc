package search

import "testing"

// A heat is as far as its iterations, or as its time less the lead where that is
// further on; what was spent before the search does not count.
func TestPace(t *testing.T) {
	spent := 0.2
	p := newPace(func() float64 { return spent })
	p.next(0.1)
	if spent = 0.32; p.of(0.5) != 0.5 || p.hurried.Load() {
		t.Error("a short heat is hurried by less than the lead: 0.15 of what was left, where it ends at 0.1")
	}
	p.next(0.9) // from 0.1 to 1
	for _, c := range []struct {
		spent, done, want float64
		hurried           bool
	}{
		{0.2, 0, 0, false},
		{0.36, 0.5, 0.5, false}, // a fifth of what was left: a ninth of the heat
		{0.64, 0.5, 0.5, false}, // 0.45 over 0.9
		{0.92, 0.5, 0.7777778, true},
		{1, 0.5, 0.8888889, true},
	} {
		spent = c.spent
		if got := p.of(c.done); got < c.want-1e-6 || got > c.want+1e-6 || p.hurried.Load() != c.hurried {
			t.Errorf("after %g of the time and %g of the iterations: %g, hurried %t; want %g, %t",
				c.spent, c.done, got, p.hurried.Load(), c.want, c.hurried)
		}
	}
}

// A heat that fills the time is as far as that, up to nine tenths of it.
func TestPace_Rest(t *testing.T) {
	spent := 0.5
	p := newPace(func() float64 { return spent })
	left := p.rest()
	for at, want := range map[float64]float64{0.5: 0, 0.7: 0.5, 0.9: 1} {
		if spent = at; left(0) < want-1e-6 || left(0) > want+1e-6 {
			t.Errorf("after %g of the time: %g, want %g", at, left(0), want)
		}
	}
	spent = 0.95
	if late := p.rest(); late(0) != 1 || p.hurried.Load() {
		t.Errorf("begun after the end: %g, hurried %t; want 1", late(0), p.hurried.Load())
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
