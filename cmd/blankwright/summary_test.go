package main

import (
	"strings"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/plan"
)

// A term that costs less than its part of a bound of several has no gap of its
// own, and the text says why.
func TestCostText_TermsTogether(t *testing.T) {
	p := &planned{Result: &scheduler.Result{
		Plan:  &plan.Plan{Cost: plan.Cost{Total: 30}, Bound: plan.Bound{Total: 21, Gap: 0.3}},
		Terms: []scheduler.BoundTerm{{Term: "late", Cost: 20, Bound: 10, By: "x"}, {Term: "hold", Cost: 10, Bound: 11, By: "x"}},
	}}
	text := p.costText()
	if strings.Contains(text, "-10.0 %") || !strings.Contains(text, "50.0 %") || !strings.Contains(text, "not for each alone") {
		t.Errorf("it says\n%s", text)
	}
	p.Terms[1].Bound = 10
	if text := p.costText(); strings.Contains(text, "alone") {
		t.Errorf("where each term costs its part, it says\n%s", text)
	}
}
