// Package tidy does for an answer what a search leaves undone: small things that
// one look at the whole of it finds sooner than chance does. No answer costs more
// for it.
//
// It takes out of loads what brings nothing, and lets trim tasks wait; else loads
// stay as they are. It imports answer, line and rack.
package tidy

import "blankwright/scheduler/answer"

// Answer tidies an answer, in which no change is pending.
func Answer(a *answer.Answer) {
	shed(a)
	wait(a)
}
