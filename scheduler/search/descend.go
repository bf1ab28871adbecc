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
	// Measure is what must become less; nil: the total of the cost. It is asked
	// for of the answer as it stands, a change being tried.
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
	least := d.Measure()
	for before := least + 1; least < before; {
		before = least
		for _, sweep := range move.Sweeps() {
			for c := range sweep.All(a, d.Concerns) {
				if tries == d.Tries {
					return tries
				}
				if d.Only == nil || d.Only(c) {
					tries++
					least = d.better(a, c, least)
				}
			}
		}
	}
	return tries
}

// better makes a change where the measure becomes less than least by it, and
// returns what it then is.
func (d *Descent) better(a *answer.Answer, c answer.Change, least int64) int64 {
	if !a.Try(c) {
		return least
	}
	if now := d.Measure(); now < least {
		a.Keep()
		return now
	}
	a.Undo()
	return least
}
