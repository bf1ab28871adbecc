package store_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

// The floor that many look at is the one that the books have: after each change of
// whatever kind, and as time goes by, it is the same as books see it that have never
// looked before.
func TestHall_IsTheBooks(t *testing.T) {
	b := &bench{T: t, clock: storetest.NewClock(storetest.Start)}
	dir := t.TempDir()
	b.Books = storetest.OpenIn(t, dir, b.clock)
	storetest.Import(t, b.Books, yardWithWork())
	load := b.released()
	first := b.tasks(load, "TWO-A", "cut")[0]
	ctx := t.Context()
	steps := []struct {
		name string
		do   func() error
	}{
		{"nothing", func() error { return nil }},
		{"time", func() error { b.clock.Advance(30 * time.Hour); return nil }},
		{"an order", func() error {
			_, err := b.EnterRestock(ctx, store.LineTerms{Product: "ONE", Quantity: 1, Due: 20600})
			return err
		}},
		{"a task begun", func() error { _, err := b.ReportBegun(ctx, first.ID, time.Time{}); return err }},
		{"time within a minute", func() error { b.clock.Advance(20 * time.Second); return nil }},
		{"a task done", func() error {
			b.clock.Advance(time.Hour)
			_, err := b.ReportDone(ctx, store.TaskReport{Task: first.ID, Good: 3, Scrap: []store.Scrap{{Reason: "void", Pieces: 1}}})
			return err
		}},
		{"an oven down", func() error {
			from := shop.InstantOf(b.clock.Now())
			down := shop.Downtime{Resource: "oven:oven", From: from, To: shop.Instant{Minute: from.Minute + 40*24*60}, Why: "burner"}
			_, err := b.PutThing(ctx, "downtime", "1", strict.Encode(down), store.MustBeNew)
			return err
		}},
		{"a mandrel broken", func() error { scrapMandrel(b, "m1"); return nil }},
	}
	for _, step := range steps {
		b.must(step.do())
		fresh, err := store.OpenToRead(ctx, dir, store.Options{Now: b.clock.Now})
		b.must(err)
		want, err := fresh.FloorLoads(ctx)
		b.must(err)
		b.must(fresh.Close())
		for range 2 {
			got, err := b.FloorLoads(ctx)
			if diff := cmp.Diff(want, got); err != nil || diff != "" {
				t.Errorf("after %s: %v (-want +got):\n%s", step.name, err, diff)
			}
		}
	}
}

// The last change of the work is none of demand, and one of the catalog.
func TestLastWork(t *testing.T) {
	b := &bench{T: t, clock: storetest.NewClock(storetest.Start)}
	b.Books = storetest.OpenIn(t, t.TempDir(), b.clock)
	storetest.Import(t, b.Books, yardWithWork())
	last := func() int64 {
		id, err := b.LastWork(t.Context())
		b.must(err)
		return id
	}
	before := last()
	_, err := b.EnterRestock(t.Context(), store.LineTerms{Product: "ONE", Quantity: 1, Due: 20600})
	b.must(err)
	if got := last(); got != before {
		t.Errorf("with one line more it is %d, was %d", got, before)
	}
	_, err = b.PutThing(t.Context(), "prepreg", "extra", strict.Encode(shop.Prepreg{ID: "extra", Resin: yardWithWork().Resins[0].ID, MaxOpenMinutes: 60, NestYield: 1}), store.MustBeNew)
	b.must(err)
	event, err := b.LastEvent(t.Context())
	b.must(err)
	if got := last(); got != event {
		t.Errorf("with one prepreg more it is %d, want the last event, %d", got, event)
	}
}
