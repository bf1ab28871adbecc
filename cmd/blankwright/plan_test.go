package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/shop"
)

// A trial is a world with a stand-in for the planner and a clock that stands
// still.
type trial struct {
	world
	out, err bytes.Buffer
}

func newTrial(p planner) *trial {
	s := &trial{}
	s.world = world{
		stdin: strings.NewReader(""), stdout: &s.out, stderr: &s.err, plan: p,
		now: func() time.Time { return time.Date(2026, 11, 26, 14, 0, 0, 0, time.UTC) },
	}
	return s
}

func (s *trial) command(args ...string) int { return s.run(context.Background(), args) }

// yardResult is what a planner would say of the yard's plan.
func yardResult(t *testing.T, s *shop.Shop) *scheduler.Result {
	t.Helper()
	p, err := plan.Read([]byte(content(t, yardPlanFile)), s)
	if err != nil {
		t.Fatal(err)
	}
	var ship shop.Date
	if err := ship.UnmarshalText([]byte("2026-12-02")); err != nil {
		t.Fatal(err)
	}
	return &scheduler.Result{
		Plan: p, Iterations: 1200, Stopped: "effort",
		Terms: []scheduler.BoundTerm{
			{Term: "late", Cost: 408, Bound: 0},
			{Term: "hold", Cost: 1, Bound: 0},
			{Term: "oven", Cost: 80.7, Bound: 60.525, By: "loads by mandrels"},
			{Term: "setup", Cost: 13, Bound: 13, By: "keys to set up"},
		},
		Trace: scheduler.Trace{
			Moves: []scheduler.MoveTally{
				{Move: "repack", Drawn: 800, Proposed: 500, Placed: 90, Kept: 12, Bettered: 3, Gain: 97.3},
				{Move: "shift", Drawn: 400, Proposed: 400},
			},
			Points: []scheduler.TracePoint{
				{Heat: 1, Best: 600, Current: 600},
				{Heat: 1, Island: 1, Best: 650, Current: 650},
				{Heat: 2, Iteration: 600, Best: 502.7, Current: 511.25},
			},
		},
		Lines: []scheduler.LineReport{
			{Line: "W3", Product: "SURF11", Quantity: 3, Due: s.Demand[2].Due, UnallocatedSets: 3, Cost: 324, Binds: []scheduler.Binding{
				{Kind: "mandrel", ID: "M-19", What: "8 of 10 are out in the only load that hangs long enough.", How: "Two more M-19 would bring the line in."},
			}},
			{Line: "D1", Order: "O1", Product: "SURF11", Quantity: 7, Due: s.Demand[0].Due, Ship: &ship, LateSets: 7, DaysLate: 1, Cost: 84},
		},
		Study: yardStudy(&ship),
	}
}

// yardCutShort is what a planner would say of it that was stopped early.
func yardCutShort(t *testing.T, s *shop.Shop) *scheduler.Result {
	t.Helper()
	r := yardResult(t, s)
	r.Stopped, r.Study = scheduler.ByStop, nil
	return r
}

// yardStudy is what a planner would say that one thing more brings the yard.
func yardStudy(ship *shop.Date) *scheduler.Study {
	mandrel := relax.Relaxation{Kind: relax.Mandrel, ID: "M-19"}
	material := relax.Relaxation{Kind: relax.Material, ID: "UD", M2: 2.5}
	green := relax.Relaxation{Kind: relax.Green}
	return &scheduler.Study{
		AsItIs: 502.7, Tries: 433, LeftOut: 2,
		Things: []scheduler.Thing{
			{With: mandrel, What: mandrel.String(), PlanSaves: 210.5, Lines: 2, DaysSooner: 61, SetsMore: 3, Tries: 433},
			{With: material, What: material.String(), Lines: 1, DaysSooner: 1, Tries: 433},
			{With: green, What: green.String(), Tries: 12},
		},
		Lines: map[string][]scheduler.Gain{
			"W3": {{With: mandrel, What: mandrel.String(), DaysSooner: 60, SetsMore: 3, Saves: 224, PlanSaves: 210.5, Outcome: scheduler.Outcome{
				Ship: ship, PlanCost: 292.2,
			}}},
			"D1": {
				{With: mandrel, What: mandrel.String(), DaysSooner: 1, Saves: 84, PlanSaves: 210.5},
				{With: material, What: material.String(), DaysSooner: 1},
			},
		},
	}
}

// planYard plans the yard, telling a progress on the way.
func planYard(t *testing.T) planner {
	return func(_ context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		if o.Progress != nil {
			o.Progress(scheduler.Progress{Iteration: 600, Effort: 1200, Cost: 600, Bound: 300})
		}
		return yardResult(t, s), nil
	}
}

// yardCopy is the yard's shop file in a folder of its own.
func yardCopy(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "yard.json")
	if err := os.WriteFile(file, []byte(content(t, yardFile)), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// files lists a file's folder.
func files(t *testing.T, file string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(filepath.Dir(file), "*"))
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// The plan goes beside the shop unless told otherwise, nothing else does, and
// the summary tells cost, bound and gap by term, and the lines with what binds
// them.
func TestPlan_Summary(t *testing.T) {
	shopFile := yardCopy(t)
	s := newTrial(planYard(t))
	if code := s.command("plan", shopFile); code != exitFine || s.err.Len() > 0 {
		t.Fatalf("exit %d, standard error %q", code, s.err.String())
	}
	planFile := strings.TrimSuffix(shopFile, ".json") + ".plan.json"
	if got := files(t, shopFile); len(got) != 2 {
		t.Errorf("files %v, want the shop and the plan", got)
	}
	if code, stdout, _ := blankwright("check", shopFile, planFile); code != exitFine {
		t.Errorf("check of the plan written: exit %d\n%s", code, stdout)
	}
	golden(t, "plan.txt", strings.ReplaceAll(s.out.String(), filepath.Dir(shopFile)+string(filepath.Separator), ""))
}

// Where the plan is proven to be the cheapest, the summary says so.
func TestPlan_SummaryOfTheCheapest(t *testing.T) {
	s := newTrial(func(_ context.Context, yard *shop.Shop, _ scheduler.Options) (*scheduler.Result, error) {
		r := yardResult(t, yard)
		r.Stopped = scheduler.ByBound
		return r, nil
	})
	s.command("plan", yardCopy(t))
	if want := "Ended after 1,200 iterations, seed 1: no plan costs less.\n"; !strings.Contains(s.out.String(), want) {
		t.Errorf("got:\n%s", s.out.String())
	}
}

// The JSON tells the same facts.
func TestPlan_JSON(t *testing.T) {
	s := newTrial(planYard(t))
	file := filepath.Join(t.TempDir(), "p.json")
	if code := s.command("plan", "-json", "-o", file, "-seed", "7", yardFile); code != exitFine {
		t.Fatalf("exit %d, standard error %q", code, s.err.String())
	}
	golden(t, "plan.json", strings.ReplaceAll(s.out.String(), file, "p.json"))
	if decoded(t, s.out.String())["seed"] != 7.0 {
		t.Error("the seed is not 7")
	}
}

// A plan on standard output is alone there; its summary moves aside.
func TestPlan_StandardOutput(t *testing.T) {
	for _, args := range [][]string{{"plan", yardFile, "-o", "-"}, {"plan", "-"}} {
		s := newTrial(planYard(t))
		s.stdin = strings.NewReader(content(t, yardFile))
		if code := s.command(args...); code != exitFine {
			t.Fatalf("%v: exit %d, %s", args, code, s.err.String())
		}
		if code, _, stderr := blankwrightReading(s.out.String(), "check", yardFile, "-"); code != exitFine {
			t.Errorf("%v: check of standard output: exit %d, %s", args, code, stderr)
		}
		if !strings.Contains(s.err.String(), "502.70") {
			t.Errorf("%v: no summary on standard error: %q", args, s.err.String())
		}
	}
}

// A plan of ours that breaks a rule is our fault: it is not written.
func TestPlan_OwnBreach(t *testing.T) {
	shopFile := yardCopy(t)
	s := newTrial(func(_ context.Context, shop *shop.Shop, _ scheduler.Options) (*scheduler.Result, error) {
		r := yardResult(t, shop)
		r.Plan.Tasks[0].Pieces++
		return r, nil
	})
	if code := s.command("plan", shopFile); code != exitInternal || s.out.Len() > 0 || !strings.Contains(s.err.String(), "internal error") {
		t.Errorf("exit %d, standard output %q, standard error %q", code, s.out.String(), s.err.String())
	}
	if got := files(t, shopFile); len(got) != 1 {
		t.Errorf("files %v, want only the shop", got)
	}
}

// A planner that fails is an error of ours too, and nothing is written.
func TestPlan_PlannerFails(t *testing.T) {
	shopFile := yardCopy(t)
	s := newTrial(func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error) {
		return nil, errors.New("out of luck")
	})
	if code := s.command("plan", shopFile); code != exitInternal || !strings.Contains(s.err.String(), "out of luck") {
		t.Errorf("exit %d, standard error %q", code, s.err.String())
	}
	if got := files(t, shopFile); len(got) != 1 {
		t.Errorf("files %v, want only the shop", got)
	}
}

// The trace goes to a file of its own, a row to a line.
func TestPlan_Trace(t *testing.T) {
	file := filepath.Join(t.TempDir(), "trace.jsonl")
	s := newTrial(planYard(t))
	if code := s.command("plan", yardFile, "-o", os.DevNull, "-trace", file); code != exitFine {
		t.Fatalf("exit %d, standard error %q", code, s.err.String())
	}
	golden(t, "trace.jsonl", content(t, file))
}

// The options reach the planner; without any, the planner's own effort, seed 1
// and no limit hold.
func TestPlan_Options(t *testing.T) {
	tests := []struct {
		args   []string
		seed   uint64
		effort int
		study  int
		fill   bool
	}{
		{nil, 1, -1, -1, false},
		{[]string{"-seed", "9", "-effort", "0"}, 9, 0, -1, false},
		{[]string{"-effort=250", "-limit", "1m", "-explain=false"}, 1, 250, 0, false},
		{[]string{"-limit", "1m"}, 1, -1, -1, true},
		{[]string{"-limit", "0"}, 1, -1, -1, false},
	}
	for _, test := range tests {
		var got scheduler.Options
		s := newTrial(func(_ context.Context, shop *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
			got = o
			return yardResult(t, shop), nil
		})
		s.command(append([]string{"plan", yardFile, "-o", os.DevNull}, test.args...)...)
		if got.Seed != test.seed || got.Effort != test.effort || got.Study != test.study || got.Fill != test.fill || got.Stop == nil || got.Stop() {
			t.Errorf("%v: seed %d, effort %d, study %d, fill %t, or stopped at once", test.args, got.Seed, got.Effort, got.Study, got.Fill)
		}
	}
}

// The limit ends the search when the clock reaches it, and the summary says
// so.
func TestPlan_Limit(t *testing.T) {
	clock := time.Date(2026, 11, 26, 14, 0, 0, 0, time.UTC)
	s := newTrial(nil)
	s.now = func() time.Time { return clock }
	s.plan = func(_ context.Context, shop *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		for range 29 {
			clock = clock.Add(time.Second)
			if o.Stop() {
				t.Errorf("stopped at %v", clock)
			}
		}
		if clock = clock.Add(time.Second); !o.Stop() {
			t.Error("not stopped after 30 s")
		}
		return yardCutShort(t, shop), nil
	}
	s.command("plan", yardFile, "-o", os.DevNull, "-limit", "30s")
	if !strings.Contains(s.out.String(), "Stopped at the limit after 1,200 iterations, seed 1: this is the best plan so far.") {
		t.Errorf("summary:\n%s", s.out.String())
	}
	if !strings.Contains(s.out.String(), "was not tried, because") {
		t.Errorf("nothing is said of the study:\n%s", s.out.String())
	}
}

// On a terminal the progress is shown in one line, which is gone at the end;
// in a pipe there is none.
func TestPlan_Progress(t *testing.T) {
	s := newTrial(planYard(t))
	s.terminal = true
	s.command("plan", yardFile, "-o", os.DevNull)
	line := "  600 of 1,200   best cost 600.00   bound 300.00   gap 50.0 %"
	if got, want := s.err.String(), "\r"+line+"\r"+strings.Repeat(" ", len(line))+"\r"; got != want {
		t.Errorf("terminal shows %q, want %q", got, want)
	}
	pipe := newTrial(planYard(t))
	pipe.command("plan", yardFile, "-o", os.DevNull)
	if pipe.err.Len() > 0 {
		t.Errorf("pipe shows %q", pipe.err.String())
	}
}

// The line is rewritten ten times a second at most, and a shorter one leaves
// nothing of a longer.
func TestProgressLine(t *testing.T) {
	var out bytes.Buffer
	clock := time.Unix(0, 0)
	l := &progressLine{out: &out, now: func() time.Time { return clock }}
	l.clear()
	l.show(scheduler.Progress{Iteration: 1, Effort: 10, Cost: 1000, Bound: 10})
	clock = clock.Add(progressEvery - 1)
	l.show(scheduler.Progress{Iteration: 2, Effort: 10, Cost: 999, Bound: 10})
	clock = clock.Add(1)
	l.show(scheduler.Progress{Iteration: 3, Effort: 10, Cost: 0, Bound: 0})
	clock = clock.Add(progressEvery)
	l.show(scheduler.Progress{Iteration: 10, Effort: 10, Cost: 0, Bound: 0, Tried: 2, ToTry: 19})
	want := "\r  1 of 10   best cost 1,000.00   bound 10.00   gap 99.0 %" +
		"\r  3 of 10   best cost 0.00   bound 0.00   gap 0.0 %" + strings.Repeat(" ", 6) +
		"\r  one thing more: 2 of 19 tried" + strings.Repeat(" ", 20)
	if got := out.String(); got != want {
		t.Errorf("shows %q, want %q", got, want)
	}
}

// The first reason to stop stands.
func TestStopper(t *testing.T) {
	clock := time.Unix(0, 0)
	s := newStopper(func() time.Time { return clock }, time.Minute)
	if s.stop() || s.reason() != "" {
		t.Error("stopped before anything happened")
	}
	s.because(byInterrupt)
	clock = clock.Add(time.Hour)
	if !s.stop() || s.reason() != byInterrupt {
		t.Errorf("stopped by %q, want %q", s.reason(), byInterrupt)
	}
}
