package search

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/search/move"
)

// A choice draws moves: a quarter of the time any, else those more often that have
// brought more of late for the time that they took.
type choice struct {
	moves  []move.Move
	tried  []float64
	gained []float64
	weight []float64 // cumulative
}

func newChoice() *choice {
	c := &choice{moves: move.All()}
	n := len(c.moves)
	c.tried, c.gained, c.weight = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range c.weight {
		c.weight[i] = float64(i+1) / float64(n)
	}
	return c
}

// draw returns the index of the move to try next.
func (c *choice) draw(r *rand.Rand) int {
	if r.IntN(4) == 0 {
		return r.IntN(len(c.moves))
	}
	x := r.Float64() * c.weight[len(c.weight)-1]
	for i, w := range c.weight {
		if x < w {
			return i
		}
	}
	return len(c.moves) - 1
}

// note counts a try, what it brought and how many tasks were laid for it.
func (c *choice) note(i int, gain answer.Money, tasks int) {
	c.tried[i] += 1 + float64(tasks)/tasksPerTry
	c.gained[i] += float64(max(0, gain))
}

// learn draws the weights anew from what was noted since, and lets it fade.
func (c *choice) learn() {
	sum := 0.0
	for i := range c.moves {
		sum += (c.gained[i] + 1) / (c.tried[i] + 1)
		c.weight[i] = sum
		c.gained[i] *= fade
		c.tried[i] *= fade
	}
}

// tasksPerTry is about how many tasks are laid in the time that all else takes of a
// try.
const tasksPerTry = 100

// fade is how much of what was noted counts still the next time.
const fade = 0.7
