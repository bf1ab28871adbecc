package store

import (
	"time"

	"blankwright/scheduler/shop"
)

// TickSettings say when the daily tick plans, and what becomes of its plans.
type TickSettings struct {
	On bool
	// At is the local time of the tick on working days of the shipping calendar.
	At shop.Clock
	// ReleaseDays is of how many working days the tick releases the work, counted
	// from the one after it; 0: its plan stays a proposal.
	ReleaseDays int
	// Since is from when on ticks are due; Begun says that anybody has begun to tick.
	Since time.Time
	Begun bool
	Rev   int64
}

// The states of a tick.
const (
	TickRunning = "running"
	TickDone    = "done"
	TickFailed  = "failed"
)

// A Tick is what became of the tick that was due at an instant.
type Tick struct {
	Due     time.Time
	State   string
	BegunAt time.Time
	EndedAt time.Time // zero as long as it runs
	Plan    int64     // that it made; 0 where there is none
	Failure string    // why it failed
}
