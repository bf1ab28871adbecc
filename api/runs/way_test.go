package runs_test

import (
	"context"
	"sync/atomic"
	"testing"

	"blankwright/api/runs"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// A search stands still as long as a request waits for its answer, but not for ever.
func TestManager_GivesWay(t *testing.T) {
	var looks, answered atomic.Int64
	waiting := func() int64 {
		if looks.Add(1) > answered.Load() {
			return 0
		}
		return 1
	}
	m := manager(newBooks(small()), runs.Options{Waiting: waiting, Plan: func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		o.Yield()
		if got := looks.Load(); got != 1 {
			t.Errorf("with nobody there, the search looks %d times", got)
		}
		looks.Store(0)
		answered.Store(5)
		o.Yield()
		if got := looks.Load(); got != 6 {
			t.Errorf("the search goes on after %d looks, want 6: the request is answered at the fifth", got)
		}
		answered.Store(1 << 40)
		o.Yield() // returns although nobody is ever answered
		return quick(ctx, s, o)
	}})
	run, _ := request(t, m, byRequest)
	if end := finish(t, run); end.Stage != runs.StageDone {
		t.Errorf("the run ended %+v", end)
	}
}
