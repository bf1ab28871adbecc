package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A walk goes from one oven start to the next that is worth a try.
type walk struct {
	t      *Timetable
	l      *Load
	ready  Tick // the load does not go in before
	failed Tick // the start tried last
	dark   Tick // working minutes from there to ready, where that was a guess; else 0
	step   Tick // the next guess
	steps  int  // from start to start, so far
}

// longestStep is the longest step, in working minutes, that is taken in the
// dark. Longer ones would leave good time unused.
const longestStep = 30

// After so many short steps the next ones are a guess as well: what is missing may
// be found minute by minute, and each start takes as long to try as the first.
const (
	shortSteps = 2
	firstGuess = 5
)

// on goes on from a start that failed, by what was missing. Where nothing tells
// that, ever longer steps keep a crowded week from being searched minute by minute.
// It reports false where no start is left.
func (w *walk) on(in, delay Tick) bool {
	w.failed, w.dark = in, 0
	if delay <= 0 {
		w.dark, w.step = w.step, min(w.step*2, longestStep)
		delay = w.dark
	}
	if far := w.guess(); far > delay {
		w.dark, delay = far, far
	}
	w.ready = w.after(delay)
	return w.ready < instance.Never
}

// guess returns a step, ever longer, for a load that strides once there were many
// short ones; else 0.
func (w *walk) guess() Tick {
	w.steps++
	if !w.l.Strides || w.steps <= shortSteps {
		return 0
	}
	return min(longestStep, firstGuess<<min(w.steps-shortSteps-1, 3))
}

// after returns the start that lies so many working minutes behind the last.
func (w *walk) after(delay Tick) Tick {
	return max(w.failed+1, w.t.in.Stations[shop.Wrap].Calendar.Ahead(w.failed, delay))
}

// slot returns when the oven can take the load. A step in the dark past the last
// start before the oven closes, or is taken, is made shorter: that start may do.
func (w *walk) slot() (in, out Tick, ok bool) {
	for {
		in, out, ok = w.t.ovens[w.l.Oven].slot(w.ready, w.l.Cure, w.t.in.Horizon)
		if ok && in == w.ready || w.dark <= 1 {
			return in, out, ok
		}
		w.dark /= 2
		w.ready = w.after(w.dark)
	}
}
