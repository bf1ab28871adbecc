package scheduler

import (
	"blankwright/scheduler/binding"
	"blankwright/scheduler/plan"
)

// A Result is a plan with what is known of it.
type Result struct {
	Plan       *plan.Plan
	Terms      []BoundTerm
	Lines      []LineReport // those that cost most first
	Iterations int
	Stopped    string // ByEffort, ByStop, ByTime or ByBound
	Trace      Trace
	Study      *Study // nil where none was asked for, no line is late, or the search was ended early
}

// Why a search ended: its effort was spent, it was stopped from outside before that, it
// went on for all its time, or its plan costs no more than the bound.
const (
	ByEffort = "effort"
	ByStop   = "stop"
	ByTime   = "time"
	ByBound  = "bound"
)

// A BoundTerm is one cost term with its bound, and the name of what proves it:
// empty where nothing is proven.
type BoundTerm struct {
	Term        string
	Cost, Bound float64
	By          string
}

// A LineReport tells of a line that is late or not wholly planned.
type LineReport = binding.Line

// A Binding is what holds a line back.
type Binding = binding.Cause
