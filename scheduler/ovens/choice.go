package ovens

import "math/rand/v2"

// A choice draws moves, those more often of which more were kept of late.
type choice struct {
	tried, kept []float64 // by move, fading
	upTo        []float64 // by move: its weight and those before it
	notes       int
}

// Of a choice's weights, so much is every move's, whatever it brought; what was
// noted fades by so much, each time that it is looked at.
const (
	leastWeight = 0.1
	fade        = 0.7
	learnEvery  = 256
)

func newChoice() *choice {
	c := &choice{tried: make([]float64, len(moves)), kept: make([]float64, len(moves)), upTo: make([]float64, len(moves))}
	c.learn()
	return c
}

// draw returns the index of the move to try next.
func (c *choice) draw(r *rand.Rand) (m int) {
	x := r.Float64() * c.upTo[len(c.upTo)-1]
	for c.upTo[m] <= x {
		m++
	}
	return m
}

// note counts a try, and whether it was kept and changed the cost.
func (c *choice) note(m int, kept bool) {
	c.tried[m]++
	if kept {
		c.kept[m]++
	}
	if c.notes++; c.notes%learnEvery == 0 {
		c.learn()
	}
}

func (c *choice) learn() {
	sum := 0.0
	for m := range moves {
		sum += leastWeight + (c.kept[m]+1)/(c.tried[m]+1)
		c.upTo[m] = sum
		c.kept[m] *= fade
		c.tried[m] *= fade
	}
}
