package store

import (
	"time"

	"blankwright/scheduler/plan"
)

// Why a plan was asked for.
const (
	PlanByTick    = "tick"    // the daily tick
	PlanByRequest = "request" // somebody asked for it
	PlanByQuote   = "quote"   // it shows what an order would do, and is never worked
)

// The states of a plan.
const (
	PlanRunning  = "running"  // being made
	PlanProposal = "proposal" // made, and nobody has decided on it
	PlanInForce  = "in force" // the shop works by it; there is one at most
	PlanKept     = "kept"     // made, and another has taken its place
	PlanFailed   = "failed"   // not made
)

// A Plan is what the books know of a plan beside its files.
type Plan struct {
	ID      int64
	Why     string
	State   string
	By      string // who asked for it
	AskedAt time.Time
	EndedAt time.Time // zero as long as it is being made
	Failure string    // why it was not made; empty where it was
	Figures
}

// Figures are what a plan says of itself.
type Figures struct {
	Now        time.Time // the instant from which it plans
	Seed       uint64
	Effort     int // iterations that it was given
	Iterations int // and that it took
	Stopped    string
	Cost       plan.Cost
	Bound      plan.Bound
	Loads      int
	Late       int // lines that are late or not wholly planned
}

// PlanFiles are a plan with the shop that it was made for, and what the planner
// told of it: two files, and a text in a form of the planner's own.
type PlanFiles struct{ Shop, Plan, Report []byte }

// A PlanFilter picks plans. Its zero value picks all of them.
type PlanFilter struct {
	Why   string // of one kind only
	State string // in one state only
	After int64  // older than this id
	Limit int    // at most so many; 0: all
}
