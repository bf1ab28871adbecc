package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

// The tick is due at the usual time from when somebody begins to tick, until it is
// changed; turned on again, it is due from then.
func TestTickSettings(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := t.Context()
	check := func(want store.TickSettings) {
		t.Helper()
		got, err := b.TickSettings(ctx)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v (-want +got):\n%s", err, diff)
		}
	}
	clock.Advance(time.Hour)
	check(store.TickSettings{On: true, At: 15 * 60, Since: clock.Now(), Rev: 1})
	since := clock.Now()
	for range 2 {
		if err := b.BeginTicks(ctx); err != nil {
			t.Fatal(err)
		}
		clock.Advance(time.Hour)
		check(store.TickSettings{On: true, At: 15 * 60, Since: since, Begun: true, Rev: 1})
	}
	off, on, at, days := false, true, shop.Clock(14*60+30), 2
	change := func(rev int64, c store.TickChange) {
		t.Helper()
		if _, err := b.ChangeTick(ctx, rev, c); err != nil {
			t.Fatal(err)
		}
	}
	change(1, store.TickChange{On: &off, At: &at})
	check(store.TickSettings{At: at, Since: since, Begun: true, Rev: 2})
	change(0, store.TickChange{On: &on, ReleaseDays: &days})
	check(store.TickSettings{On: true, At: at, ReleaseDays: 2, Since: clock.Now(), Begun: true, Rev: 3})
	if _, err := b.ChangeTick(ctx, 2, store.TickChange{}); !errors.Is(err, store.ErrStale) {
		t.Errorf("a stale change: %v", err)
	}
	midnight, many := shop.Clock(24*60), 31
	var problems strict.Problems
	_, err := b.ChangeTick(ctx, 3, store.TickChange{At: &midnight, ReleaseDays: &many})
	if !errors.As(err, &problems) || len(problems) != 2 || problems[0].Path != "at" || problems[1].Path != "release_days" {
		t.Errorf("a wrong change: %v", err)
	}
}

// A due time is taken up once, and no time before it; one that never ended is begun
// anew, though not for ever.
func TestTicks(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := t.Context()
	monday := clock.Now()
	steps := []struct {
		due   int // days
		begun bool
	}{{1, true}, {1, true}, {0, false}, {2, true}, {2, true}, {2, true}, {2, false}, {1, false}}
	for i, step := range steps {
		begun, err := b.BeginTick(ctx, monday.AddDate(0, 0, step.due))
		if err != nil || begun != step.begun {
			t.Errorf("step %d: %t, %v", i, begun, err)
		}
	}
	id := makePlan(t, b, store.PlanByTick)
	due := monday.AddDate(0, 0, 3)
	if _, err := b.BeginTick(ctx, due); err != nil {
		t.Fatal(err)
	}
	clock.Advance(time.Minute)
	if err := b.EndTick(ctx, due, id, ""); err != nil {
		t.Fatal(err)
	}
	if begun, err := b.BeginTick(ctx, due); begun || err != nil {
		t.Errorf("a tick that ended is begun: %t, %v", begun, err)
	}
	got, err := b.Ticks(ctx, 1)
	want := []store.Tick{{Due: due, State: store.TickDone, BegunAt: monday, EndedAt: clock.Now(), Plan: id}}
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
	if err := b.EndTick(ctx, monday, 0, ""); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("ending a tick that never began: %v", err)
	}
}

// A tick that fails is told once: by its plan where that failed, else by itself.
func TestTicks_Fail(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx, due := t.Context(), clock.Now()
	bad, good := begun(t, b), makePlan(t, b, store.PlanByTick)
	if err := b.FailPlan(ctx, bad, "no oven"); err != nil {
		t.Fatal(err)
	}
	for i, test := range []struct {
		plan          int64
		failure, want string
	}{
		{bad, "no oven", "Plan 1 could not be made: no oven."},
		{good, "not released", "failed: not released."},
		{0, "no room", "failed: no room."},
	} {
		at := due.AddDate(0, 0, i)
		if _, err := b.BeginTick(ctx, at); err != nil {
			t.Fatal(err)
		}
		if err := b.EndTick(ctx, at, test.plan, test.failure); err != nil {
			t.Fatal(err)
		}
		notices, err := b.Notices(ctx, store.NoticeFilter{Limit: 1})
		if err != nil || len(notices) != 1 || !strings.HasSuffix(notices[0].Text, test.want) {
			t.Errorf("%+v, %v, want %q", notices, err, test.want)
		}
		ticks, err := b.Ticks(ctx, 1)
		if err != nil || ticks[0].State != store.TickFailed || ticks[0].Failure != test.failure {
			t.Errorf("%+v, %v", ticks, err)
		}
	}
}
