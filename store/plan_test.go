package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/plan"
	"blankwright/store"
	"blankwright/store/storetest"
)

var planText = store.PlanFiles{Shop: []byte(`{"shop":1}`), Plan: []byte(`{"plan":1}`), Report: []byte(`{}`)}

// makePlan has a plan be made, which raises something.
func makePlan(t *testing.T, b *store.Books, why string, raised ...store.Raised) int64 {
	t.Helper()
	id, err := b.BeginPlan(t.Context(), why)
	if err == nil {
		err = b.KeepPlan(t.Context(), id, store.Figures{Loads: int(id)}, planText, raised)
	}
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func stateOf(t *testing.T, b *store.Books, id int64) string {
	t.Helper()
	p, err := b.Plan(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return p.State
}

// A plan keeps who asked for it, when, its figures and its files, to the byte.
func TestPlan_Keeps(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := store.WithActor(t.Context(), "Isla")
	id, err := b.BeginPlan(ctx, store.PlanByRequest)
	if err != nil {
		t.Fatal(err)
	}
	want := store.Plan{ID: id, Why: store.PlanByRequest, State: store.PlanRunning, By: "Isla", AskedAt: storetest.Start}
	got, err := b.Plan(ctx, id)
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Fatalf("%v, while it is made (-want +got):\n%s", err, diff)
	}
	clock.Advance(time.Minute)
	figures := store.Figures{
		Now: storetest.Start, Seed: 1<<64 - 1, Effort: 9, Iterations: 8, Stopped: "stop",
		Cost: plan.Cost{Late: 0.1, Total: 1e15}, Bound: plan.Bound{Total: 1. / 3, Gap: 0.5}, Loads: 3, Late: 2,
	}
	if err := b.KeepPlan(ctx, id, figures, planText, nil); err != nil {
		t.Fatal(err)
	}
	want.State, want.EndedAt, want.Figures = store.PlanProposal, clock.Now(), figures
	got, err = b.LatestPlan(ctx)
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v, when it is made (-want +got):\n%s", err, diff)
	}
	files, err := b.PlanFiles(ctx, id)
	if diff := cmp.Diff(planText, files); err != nil || diff != "" {
		t.Errorf("%v, files (-want +got):\n%s", err, diff)
	}
	trail, err := b.Trail(ctx, store.TrailFilter{Kind: "plan"})
	if err != nil || len(trail) != 2 || trail[0].What != "make" || trail[1].Actor != "Isla" {
		t.Errorf("trail %+v, %v", trail, err)
	}
}

// One plan at most is a proposal, and one in force; a quote is neither, and never the
// latest.
func TestPlan_States(t *testing.T) {
	b, _ := storetest.Open(t)
	ctx := t.Context()
	if _, err := b.PlanInForce(ctx); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("in force before there is any: %v", err)
	}
	first := makePlan(t, b, store.PlanByTick)
	if _, err := b.PutInForce(ctx, first); err != nil {
		t.Fatal(err)
	}
	second, third := makePlan(t, b, store.PlanByRequest), makePlan(t, b, store.PlanByTick)
	quote := makePlan(t, b, store.PlanByQuote)
	want := map[int64]string{first: store.PlanInForce, second: store.PlanKept, third: store.PlanProposal, quote: store.PlanKept}
	for id, state := range want {
		if got := stateOf(t, b, id); got != state {
			t.Errorf("plan %d is %q, want %q", id, got, state)
		}
	}
	if latest, err := b.LatestPlan(ctx); err != nil || latest.ID != third {
		t.Errorf("latest is %d, %v; want %d", latest.ID, err, third)
	}
	if p, err := b.PutInForce(ctx, second); err != nil || p.State != store.PlanInForce || stateOf(t, b, first) != store.PlanKept {
		t.Errorf("putting %d in force: %+v, %v", second, p, err)
	}
	if p, err := b.PutInForce(ctx, second); err != nil || p.ID != second {
		t.Errorf("again: %+v, %v", p, err)
	}
	for _, id := range []int64{quote, begun(t, b)} {
		if _, err := b.PutInForce(ctx, id); !errors.Is(err, store.ErrConflict) {
			t.Errorf("putting %d in force: %v", id, err)
		}
	}
	if _, err := b.PutInForce(ctx, 99); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("putting 99 in force: %v", err)
	}
}

func begun(t *testing.T, b *store.Books) int64 {
	t.Helper()
	id, err := b.BeginPlan(t.Context(), store.PlanByTick)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// A plan that fails leaves the others as they are, says why, and has no files; so does
// one that the server ended beneath.
func TestPlan_Fails(t *testing.T) {
	b, _ := storetest.Open(t)
	ctx := t.Context()
	good := makePlan(t, b, store.PlanByTick)
	bad, lost := begun(t, b), begun(t, b)
	if err := b.FailPlan(ctx, bad, "the oven is a drawing"); err != nil {
		t.Fatal(err)
	}
	if err := b.EndPlans(ctx); err != nil {
		t.Fatal(err)
	}
	for id, want := range map[int64]string{bad: "the oven is a drawing", lost: "the server ended while the plan was being made"} {
		if p, err := b.Plan(ctx, id); err != nil || p.State != store.PlanFailed || p.Failure != want {
			t.Errorf("plan %d: %+v, %v", id, p, err)
		}
		if _, err := b.PlanFiles(ctx, id); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("files of %d: %v", id, err)
		}
		if err := b.KeepPlan(ctx, id, store.Figures{}, planText, nil); !errors.Is(err, store.ErrConflict) {
			t.Errorf("keeping %d: %v", id, err)
		}
	}
	if latest, err := b.LatestPlan(ctx); err != nil || latest.ID != good || latest.State != store.PlanProposal {
		t.Errorf("latest is %+v, %v", latest, err)
	}
	notices, err := b.Notices(ctx, store.NoticeFilter{})
	if err != nil || len(notices) != 1 || notices[0].Kind != store.NoticeFailed || !strings.Contains(notices[0].Text, "Plan 3 could not be made") {
		t.Errorf("notices %+v, %v", notices, err)
	}
	makePlan(t, b, store.PlanByTick)
	if notices, _ = b.Notices(ctx, store.NoticeFilter{}); len(notices) > 0 {
		t.Errorf("after a good plan there are still %+v", notices)
	}
}

// Lists of plans are the newest first, by pages, of one kind or state.
func TestPlans(t *testing.T) {
	b, _ := storetest.Open(t)
	for _, why := range []string{store.PlanByTick, store.PlanByQuote, store.PlanByRequest, store.PlanByTick} {
		makePlan(t, b, why)
	}
	tests := []struct {
		filter store.PlanFilter
		want   []int64
	}{
		{store.PlanFilter{}, []int64{4, 3, 2, 1}},
		{store.PlanFilter{Limit: 2}, []int64{4, 3}},
		{store.PlanFilter{Limit: 2, After: 3}, []int64{2, 1}},
		{store.PlanFilter{Why: store.PlanByTick}, []int64{4, 1}},
		{store.PlanFilter{State: store.PlanProposal}, []int64{4}},
		{store.PlanFilter{State: store.PlanFailed}, nil},
	}
	for _, test := range tests {
		list, err := b.Plans(t.Context(), test.filter)
		var got []int64
		for _, p := range list {
			got = append(got, p.ID)
		}
		if diff := cmp.Diff(test.want, got); err != nil || diff != "" {
			t.Errorf("%+v: %v (-want +got):\n%s", test.filter, err, diff)
		}
	}
}
