// Package plan holds the answer to a planning problem as a plan file states
// it: its types, and how it is read and written.
//
// It imports shop and strict only.
package plan

import "blankwright/scheduler/shop"

// Format is the only value of Plan.Format that this package reads.
const Format = "blankwright/plan/1"

// A Plan is one answer: what is loaded when, who works what where, which line
// gets which sets, what that costs, and a proven lower bound of the cost.
type Plan struct {
	Format      string       `json:"format"`
	Shop        string       `json:"shop"`
	Now         shop.Instant `json:"now"`
	Loads       []shop.Load  `json:"loads"`
	Tasks       []shop.Task  `json:"tasks"`
	Allocations []Allocation `json:"allocations"`
	Cost        Cost         `json:"cost"`
	Bound       Bound        `json:"bound"`
}

// An Allocation gives Sets, which are good at DoneAt, to a line.
type Allocation struct {
	Line   string       `json:"line"`
	Sets   int          `json:"sets"`
	DoneAt shop.Instant `json:"done_at"`
}

// Cost is a plan's cost by term, in the shop's money.
type Cost struct {
	Late  float64 `json:"late" max:"1e15"`
	Hold  float64 `json:"hold" max:"1e15"`
	Oven  float64 `json:"oven" max:"1e15"`
	Setup float64 `json:"setup" max:"1e15"`
	Total float64 `json:"total" max:"1e15"`
}

// Bound is a proven lower bound of the cost of any valid plan, and the gap:
// (cost - bound) / cost, 0 where the cost is 0.
type Bound struct {
	Total float64 `json:"total" max:"1e15"`
	Gap   float64 `json:"gap"`
}
