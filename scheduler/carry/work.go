package carry

import "blankwright/scheduler/shop"

// Work is released work: each load and task as it was planned, and what was
// reported of it. A load of an oven that the shop has no more is left out of
// all that is carried on, and so are tasks of loads and sections that are not
// there.
type Work struct {
	Loads []Load
	Tasks []Task
}

// A Load is one oven charge. In and Out are nil until they are reported.
type Load struct {
	Planned shop.Load
	In, Out *shop.Instant
}

// A Task is some pieces of one run at one stage. Begun and Done are nil until
// they are reported. What follows is known once it is done.
type Task struct {
	Planned     shop.Task
	Begun, Done *shop.Instant
	Good        int // pieces that go on to the next stage
	Scrapped    int // pieces that were good until this task
	Dead        int // at pull only: pieces that had been scrapped before, on their mandrels
	// Lasts is until when the material that a cut task drew is good; nil where
	// that is not known.
	Lasts *shop.Instant
}

// A Standing is where released work stands, and how it goes on.
type Standing struct {
	// Released is the work that a plan from now on has to keep: all but what is
	// over and done with; nil where there is none.
	Released *shop.Released
	// Stations are the shop's, with the set-ups that work left behind which is
	// over and done with.
	Stations shop.Stations
	// Tasks and Loads tell of each task and load of the Work, by its index.
	Tasks []TaskTimes
	Loads []LoadTimes
	// Troubles are what can no longer happen as it was meant, in order of time.
	Troubles []Trouble
}

// TaskTimes are when a task is worked, as reported or as expected, and with how
// many pieces.
type TaskTimes struct {
	Count
	Start, End shop.Instant
	// Over says that nothing of it is left to keep: its load is over, or it has
	// no pieces.
	Over bool
}

// LoadTimes are when a load is in its oven, as reported or as expected.
type LoadTimes struct {
	In, CureStart, CureEnd, Out shop.Instant
	// Over says that nothing of it is left to keep.
	Over bool
}

// On carries work on to what is possible from the shop's now. The shop is one
// that shop.Read accepts; what it says itself under Released is not looked at. Neither argument is changed.
func On(s *shop.Shop, w Work) *Standing {
	f := newFloor(s, w)
	f.standing()
	f.work()
	return f.report()
}
