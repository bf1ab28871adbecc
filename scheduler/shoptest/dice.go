package shoptest

import (
	"math"
	"math/rand/v2"
)

// dice draws everything that is random about one shop.
type dice struct{ *rand.Rand }

// The functions of this package draw from streams of their own, so that the
// same seed says nothing alike to two of them.
const (
	streamMake uint64 = iota + 1
	streamTiny
	streamGrow
	streamHopeless
)

func newDice(seed, stream uint64) dice { return dice{rand.New(rand.NewPCG(seed, stream))} }

func (d dice) chance(p float64) bool { return d.Float64() < p }

// between draws a whole number from lo to hi, both included.
func (d dice) between(lo, hi int) int { return lo + d.IntN(hi-lo+1) }

// decimal draws a number from lo to hi with so many decimal places.
func (d dice) decimal(lo, hi float64, places int) float64 {
	return round(lo+(hi-lo)*d.Float64(), places)
}

func round(x float64, places int) float64 {
	scale := math.Pow10(places)
	return math.Round(x*scale) / scale
}

func pick[T any](d dice, from ...T) T { return from[d.IntN(len(from))] }

// some draws a sublist, in order, that holds at least its first entry.
func some[T any](d dice, from []T, p float64) []T {
	out := from[:1:1]
	for _, x := range from[1:] {
		if d.chance(p) {
			out = append(out, x)
		}
	}
	return out
}

func clamp(x, lo, hi int) int { return min(max(x, lo), hi) }

// share returns the least whole number that is at least a / b, and 1.
func share(a, b float64) int { return max(1, int(math.Ceil(a/b-1e-9))) }
