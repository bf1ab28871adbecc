package search

import (
	"blankwright/scheduler/answer"
	"blankwright/scheduler/search/move"
)

// A Descent says how to go down from an answer.
type Descent struct {
	// Tries is how many changes are tried at most.
	Tries int
	// Concerns tells for the sake of which products pieces are moved; nil: of
	// those whose late sets cost anything.
	Concerns func(product int) bool
	// Only tells which changes to try; nil: all.
	Only func(answer.Change) bool
	// Measure is what must become less; nil: the total of the cost.
	Measure func() int64
}

// Descend betters an answer by every change of every sweep, round after round,
// until a round betters nothing or the tries are spent. There is no chance in it.
// It returns how many were tried.
func Descend(a *answer.Answer, d Descent) (tries int) {
	if d.Concerns == nil {
		d.Concerns = func(product int) bool { return a.LateOf(product) > 0 }
	}
	if d.Measure == nil {
		d.Measure = func() int64 { return a.Cost().Total() }
	}
	for before := d.Measure() + 1; d.Measure() < before; {
		before = d.Measure()
		for _, sweep := range move.Sweeps() {
			for c := range sweep.All(a, d.Concerns) {
				if tries == d.Tries {
					return tries
				}
				if d.Only == nil || d.Only(c) {
					tries++
					d.better(a, c)
				}
			}
		}
	}
	return tries
}

// better makes a change where that betters the answer.
func (d *Descent) better(a *answer.Answer, c answer.Change) {
	before := d.Measure()
	if !a.Try(c) {
		return
	}
	if d.Measure() < before {
		a.Keep()
	} else {
		a.Undo()
	}
}
