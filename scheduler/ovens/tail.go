package ovens

import (
	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A tail is what comes after the oven, as a step function of time: by day, the
// last instant at which a piece can be out of the oven to be done on that day.
type tail struct {
	in               *instance.Instance
	section, profile int
	last             []Tick // unknown until it is asked for
}

const unknown Tick = -1

// day returns the day on which a piece is done that is out at an instant; past
// the last where it is not done within the horizon.
func (t *tail) day(out Tick) int {
	if out >= t.in.Horizon {
		return len(t.last)
	}
	day := t.in.Day(out)
	for day < len(t.last) && t.latest(day) < out {
		day++
	}
	return day
}

// latest returns the last instant at which a piece can be out to be done by the
// end of a day.
func (t *tail) latest(day int) Tick {
	if t.last[day] == unknown {
		low, high := Tick(0), t.in.Midnight(day+1) // not done at high; nothing is out as soon as low
		for low+1 < high {
			if mid := (low + high) / 2; t.done(mid, day) {
				low = mid
			} else {
				high = mid
			}
		}
		t.last[day] = low
	}
	return t.last[day]
}

// done reports whether a piece that is out at an instant is done by the end of a
// day.
func (t *tail) done(out Tick, day int) bool {
	done := alone.Finished(t.in, t.section, t.profile, out)
	return done <= t.in.Horizon && t.in.Day(done) <= day
}

// tails are the tails of a shop, one for all sections that take the same time.
type tails struct {
	in    *instance.Instance
	known map[pace]*tail
}

// A pace is all that a tail depends on.
type pace struct{ rest, pull, strip, trim Tick }

func newTails(in *instance.Instance) *tails { return &tails{in: in, known: map[pace]*tail{}} }

func (ts *tails) of(section, profile int) *tail {
	work := func(stage shop.Stage) Tick { return max(1, ts.in.Work(stage, section, 0, 1)) }
	key := pace{ts.in.Profiles[profile].Rest, work(shop.Pull), work(shop.Strip), work(shop.Trim)}
	t := ts.known[key]
	if t == nil {
		t = &tail{in: ts.in, section: section, profile: profile, last: make([]Tick, ts.in.Day(ts.in.Horizon)+1)}
		for i := range t.last {
			t.last[i] = unknown
		}
		ts.known[key] = t
	}
	return t
}
