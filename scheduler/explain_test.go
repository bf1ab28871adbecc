package scheduler_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// threeOnTwo is a bare shop with two mandrels for three pieces and a cure that
// takes a day: one set is a day late, for want of a mandrel.
func threeOnTwo() *shop.Shop {
	s := shoptest.Bare()
	s.Profiles[0] = shoptest.BareProfile("cure", 1380)
	s.Mandrels = s.Mandrels[:2]
	shoptest.AddLine(s, "P", 3, 0, 1)
	return shoptest.Accepted(s)
}

// A plan that was written is explained as it was found, and again the same.
func TestExplain(t *testing.T) {
	s := threeOnTwo()
	r := planned(t, s, scheduler.Options{Effort: 500})
	first, err := scheduler.Explain(context.Background(), s, r.Plan, "D1", scheduler.ExplainOptions{Tries: -1})
	if err != nil {
		t.Fatal(err)
	}
	if g := first.Gains[0]; g.What != "one more mandrel mandrel" || g.DaysSooner != 1 || g.PlanSaves != 1 {
		t.Errorf("first gain %+v, want a day and 1 by a mandrel", g)
	}
	again, err := scheduler.Explain(context.Background(), s, r.Plan, "D1", scheduler.ExplainOptions{Tries: -1})
	if diff := cmp.Diff(first, again); err != nil || diff != "" {
		t.Errorf("error %v, and explained again (-first +again):\n%s", err, diff)
	}
}

// What cannot be explained is refused, and an explanation can be ended.
func TestExplain_Ends(t *testing.T) {
	s := threeOnTwo()
	p := planned(t, s, scheduler.Options{Effort: 500}).Plan
	if _, err := scheduler.Explain(context.Background(), s, p, "D9", scheduler.ExplainOptions{}); err == nil || !strings.Contains(err.Error(), `no line "D9"`) {
		t.Errorf("line D9: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	e, err := scheduler.Explain(ctx, s, p, "D1", scheduler.ExplainOptions{Tries: -1, Progress: func(int, int) { cancel() }})
	if err != nil || e.LeftOut == 0 {
		t.Errorf("cancelled after the first: %v, %+v", err, e)
	}
	if _, err := scheduler.Explain(ctx, s, p, "D1", scheduler.ExplainOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before: %v", err)
	}
}

// A plan is studied where that is asked for, some line is late, and the search
// was not ended early; and progress tells of it.
func TestPlan_Study(t *testing.T) {
	tried, toTry := 0, 0
	o := scheduler.Options{Effort: 500, Study: -1, Progress: func(p scheduler.Progress) { tried, toTry = p.Tried, p.ToTry }}
	r := planned(t, threeOnTwo(), o)
	if r.Study == nil || len(r.Study.Things) != toTry || tried != toTry || r.Study.Lines["D1"][0].DaysSooner != 1 {
		t.Errorf("study %+v, progress tells of %d of %d", r.Study, tried, toTry)
	}
	inTime := shoptest.Bare()
	shoptest.AddLine(inTime, "P", 3, 9, 1)
	for name, r := range map[string]*scheduler.Result{
		"not asked for": planned(t, threeOnTwo(), scheduler.Options{Effort: 500}),
		"in time":       planned(t, inTime, o),
		"ended early":   planned(t, threeOnTwo(), scheduler.Options{Effort: 5000, Study: -1, Stop: func() bool { return true }}),
	} {
		if r.Study != nil {
			t.Errorf("%s: study %+v", name, r.Study)
		}
	}
}

// The number of processors changes nothing in a study.
func TestPlan_StudyDeterministic(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(5, shoptest.Size{Products: 12, Pieces: 120, Days: 4}))
	var studies []*scheduler.Study
	for _, n := range []int{1, 8} {
		procs(t, n)
		studies = append(studies, planned(t, s, scheduler.Options{Seed: 7, Effort: 300, Study: 40}).Study)
	}
	if diff := cmp.Diff(studies[0], studies[1]); diff != "" || studies[0] == nil {
		t.Errorf("1 and 8 processors (-1 +8):\n%s", diff)
	}
}
