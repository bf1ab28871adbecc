package move

import (
	"iter"

	"blankwright/scheduler/answer"
)

// A Sweep proposes every change of one sort, one after the other and always in
// the same order. Where one is kept on the way, it goes on from there. concerns
// tells for the sake of which products.
type Sweep struct {
	Name string
	All  func(a *answer.Answer, concerns func(product int) bool) iter.Seq[answer.Change]
}

// Sweeps returns every sweep, in the order in which they pay.
func Sweeps() []Sweep {
	return []Sweep{
		{"squeeze eight", squeezeAll(8)},
		{"squeeze four", squeezeAll(4)},
		{"place sooner", placeSooner},
		{"give forward", giveForward},
		{"start spare", startSpare},
	}
}
