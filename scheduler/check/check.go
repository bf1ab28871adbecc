// Package check judges plans: it verifies a finished plan against every rule
// of the problem and counts its cost anew.
//
// It is the oracle of the planner, so it is naive where that makes it clear,
// repairs nothing, and shares no code with the planner: even its calendars are
// its own. It imports only the types of shop and plan. Anybody may import it
// but the packages that make plans, save for their tests.
package check

import (
	"fmt"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// The rules beside R1 to R15 under which a breach is reported.
const (
	RuleFile  = "file"  // the plan file's own form, and what its references name
	RuleCost  = "cost"  // a cost term that differs from the recount
	RuleBound = "bound" // a bound that cannot be one, or its gap
)

// A Breach is one place at which a plan breaks a rule.
type Breach struct {
	Rule    string `json:"rule"`    // "R1" to "R15", "file", "cost" or "bound"
	Where   string `json:"where"`   // as "load L7" or "tasks[12]"
	Message string `json:"message"` // what is wrong, with its numbers
}

// String returns the breach on one line.
func (b Breach) String() string { return b.Rule + " " + b.Where + ": " + b.Message }

// A Report is the judgement on one plan. Where a breach of RuleFile leaves a
// plan without meaning (a reference to nothing), the report holds only such
// breaches, and its cost and facts are zero.
type Report struct {
	Breaches []Breach  // by rule (file, R1 to R15, cost, bound), then in the file's order
	Cost     plan.Cost // recounted, exact

	Loads           int // the released included
	Tasks           int // the released included
	Pieces          int // in all loads
	LateSets        int // allocated sets that ship, or count as shipping, after their due date
	UnallocatedSets int // sets that are asked for and not allocated
}

// Valid reports whether the plan breaks no rule.
func (r *Report) Valid() bool { return len(r.Breaches) == 0 }

// Rules returns the rules that the plan breaks, each once, in report order.
func (r *Report) Rules() []string {
	var rules []string
	for _, b := range r.Breaches {
		if n := len(rules); n == 0 || rules[n-1] != b.Rule {
			rules = append(rules, b.Rule)
		}
	}
	return rules
}

// Plan judges p as an answer to s. The shop is one that shop.Read accepts; the
// plan may be any: what it names in vain, or states out of all range, is a
// breach. The same arguments give the same report.
func Plan(s *shop.Shop, p *plan.Plan) *Report {
	c := newChecker(s, p)
	if c.checkFile(); !c.meaningful {
		return &Report{Breaches: c.breaches}
	}
	c.resolve()
	for _, rule := range []func(*checker){
		(*checker).checkProfiles,   // R1
		(*checker).checkCure,       // R2
		(*checker).checkHanging,    // R3
		(*checker).checkOvens,      // R4
		(*checker).checkRacksInUse, // R5
		(*checker).checkStations,   // R6
		(*checker).checkSetups,     // R7
		(*checker).checkFlow,       // R8
		(*checker).checkMandrels,   // R9
		(*checker).checkOpenTime,   // R10
		(*checker).checkCrews,      // R11
		(*checker).checkMaterial,   // R12
		(*checker).checkDemand,     // R13
		(*checker).checkHorizon,    // R14
		(*checker).checkReleased,   // R15
	} {
		rule(c)
	}
	return c.report()
}

// report counts the cost, compares it, and gathers the facts.
func (c *checker) report() *Report {
	shipments := c.shipments()
	cost := c.cost(shipments)
	c.checkCost(cost)
	c.checkBound(cost.Total)
	r := &Report{Breaches: c.breaches, Cost: cost, Loads: len(c.loads), Tasks: len(c.tasks)}
	for _, l := range c.loads {
		for _, run := range l.runs {
			r.Pieces += run.pieces
		}
	}
	for _, s := range shipments {
		switch {
		case !s.allocated:
			r.UnallocatedSets += s.sets
		case s.day > s.line.Due:
			r.LateSets += s.sets
		}
	}
	return r
}

// breach records a breach of a rule.
func (c *checker) breach(rule, where, format string, args ...any) {
	c.breaches = append(c.breaches, Breach{Rule: rule, Where: where, Message: fmt.Sprintf(format, args...)})
}
