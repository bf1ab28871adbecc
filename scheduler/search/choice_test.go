package search

import (
	"math/rand/v2"
	"testing"
)

// Of two moves that bring as much, the one for which more tasks are laid is drawn
// less often; one that brings nothing is drawn now and then all the same.
func TestChoice_GainForTime(t *testing.T) {
	c := newChoice()
	for range 100 {
		for i := range c.moves {
			c.note(i, 0, 0)
		}
		c.note(0, 1000, 50)
		c.note(1, 1000, 2000)
	}
	c.learn()
	r, drawn := rand.New(rand.NewPCG(1, 1)), make([]int, len(c.moves))
	for range 10000 {
		drawn[c.draw(r)]++
	}
	if drawn[0] < 4*drawn[1] || drawn[1] < drawn[2] {
		t.Errorf("drawn %d times, %d times where it takes long, %d times where it brings nothing", drawn[0], drawn[1], drawn[2])
	}
	for i, n := range drawn {
		if n == 0 {
			t.Errorf("%s is never drawn", c.moves[i].Name())
		}
	}
}
