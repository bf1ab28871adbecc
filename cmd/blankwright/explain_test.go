package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// explainYard is a stand-in that tells of the yard's line W3, and of a progress
// on the way.
func explainYard(t *testing.T) explainer {
	return func(_ context.Context, s *shop.Shop, _ *plan.Plan, id string, o scheduler.ExplainOptions) (*scheduler.Explanation, error) {
		if o.Progress != nil {
			o.Progress(2, 3)
		}
		r := yardResult(t, s)
		if id != r.Lines[0].Line || o.Tries >= 0 || o.Stop == nil || o.Stop() {
			t.Errorf("asked for line %s, with %d tries, or stopped at once", id, o.Tries)
		}
		gains := append(r.Study.Lines["W3"], r.Study.Lines["D1"][1])
		for _, thing := range r.Study.Things[2:] {
			gains = append(gains, scheduler.Gain{With: thing.With, What: thing.What})
		}
		return &scheduler.Explanation{
			Line: r.Lines[0], Plan: 502.7, AsItIs: scheduler.Outcome{UnallocatedSets: 3, Cost: 324, PlanCost: 498.1},
			Gains: gains, Tries: 433, LeftOut: 1,
		}, nil
	}
}

// An explanation tells what binds the line, what one thing more would bring it in
// days and money, what brings nothing, and how that is known.
func TestExplain_Text(t *testing.T) {
	w := newTrial(nil)
	w.explain = explainYard(t)
	if code := w.command("explain", yardFile, yardPlanFile, "W3"); code != exitFine || w.err.Len() > 0 {
		t.Fatalf("exit %d, standard error %q", code, w.err.String())
	}
	golden(t, "explain.txt", w.out.String())
}

// The JSON tells the same facts.
func TestExplain_JSON(t *testing.T) {
	w := newTrial(nil)
	w.explain = explainYard(t)
	if code := w.command("explain", "-json", yardFile, yardPlanFile, "W3"); code != exitFine {
		t.Fatalf("exit %d, standard error %q", code, w.err.String())
	}
	golden(t, "explain.json", w.out.String())
}

// On a terminal the progress is shown, and is gone at the end.
func TestExplain_Progress(t *testing.T) {
	w := newTrial(nil)
	w.explain, w.terminal = explainYard(t), true
	w.command("explain", yardFile, yardPlanFile, "W3")
	line := "  one thing more: 2 of 3 tried"
	if got, want := w.err.String(), "\r"+line+"\r"+strings.Repeat(" ", len(line))+"\r"; got != want {
		t.Errorf("terminal shows %q, want %q", got, want)
	}
}

// The engine's own explanation of a line of a written plan is told in full; of a
// line in time, too.
func TestExplain_Engine(t *testing.T) {
	tests := []struct{ line, says string }{
		{"W3", "not planned; costs"},
		{"D1", "D1  "},
		{"D2", "D2  "},
	}
	for _, test := range tests {
		code, stdout, stderr := blankwright("explain", yardFile, yardPlanFile, test.line)
		if code != exitFine || !strings.Contains(stdout, test.says) || !strings.Contains(stdout, "How that is known: changes of the plan") {
			t.Errorf("%s: exit %d, %s\n%s", test.line, code, stderr, stdout)
		}
	}
}

// The limit leaves out what has not been tried, and that is told.
func TestExplain_Limit(t *testing.T) {
	_, stdout, _ := blankwright("explain", "-limit", "1ns", yardFile, yardPlanFile, "W3")
	if !strings.Contains(stdout, "Not tried, for want of time: ") {
		t.Errorf("got:\n%s", stdout)
	}
}

// Of a plan that breaks rules nothing is told.
func TestExplain_BrokenPlan(t *testing.T) {
	file := filepath.Join(t.TempDir(), "p.json")
	broken := strings.Replace(content(t, yardPlanFile), `"sets": 7`, `"sets": 6`, 1)
	if err := os.WriteFile(file, []byte(broken), 0o644); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := blankwright("explain", yardFile, file, "W3")
	if code != exitBroken || stdout != "" || !strings.Contains(stderr, "lists them") {
		t.Errorf("exit %d, standard output %q, standard error %q", code, stdout, stderr)
	}
}

// Of many lines only the first are named, of none it is said that there is none.
func TestHasLine(t *testing.T) {
	s := shoptest.Bare()
	if err := hasLine(s, "D1"); err == nil || !strings.Contains(err.Error(), "the shop has none") {
		t.Errorf("no line: %v", err)
	}
	for i := range mostOffered + 1 {
		s.Demand = append(s.Demand, shop.Line{ID: fmt.Sprintf("D%d", i+1)})
	}
	if err := hasLine(s, "X"); err == nil || !strings.Contains(err.Error(), "D40, and 1 more") {
		t.Errorf("many lines: %v", err)
	}
	if err := hasLine(s, "D41"); err != nil {
		t.Errorf("the last line: %v", err)
	}
}
