package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/store"
	"blankwright/store/storetest"
)

// A notice is raised once, stays seen as long as its text is the same, and is over when
// a plan no longer raises it.
func TestNotices(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := store.WithActor(t.Context(), "Isla")
	late, tool := store.Raised{Kind: "late", Subject: "L1", Text: "a day"}, store.Raised{Kind: "tool", Subject: "L1", Text: "bent"}
	first := makePlan(t, b, store.PlanByTick, late, tool)
	seen, err := b.SeeNotice(ctx, 1)
	want := store.Notice{
		ID: 1, Kind: "late", Subject: "L1", Text: "a day", Plan: first,
		RaisedAt: storetest.Start, SeenAt: storetest.Start, SeenBy: "Isla",
	}
	if diff := cmp.Diff(want, seen); err != nil || diff != "" {
		t.Fatalf("seen: %v (-want +got):\n%s", err, diff)
	}
	clock.Advance(time.Hour)
	second := makePlan(t, b, store.PlanByTick, late)
	expect(t, b, store.NoticeFilter{}, want)
	late.Text = "two days"
	third := makePlan(t, b, store.PlanByTick, late)
	want.Text, want.Plan, want.SeenAt, want.SeenBy = "two days", third, time.Time{}, ""
	gone := store.Notice{ID: 2, Kind: "tool", Subject: "L1", Text: "bent", Plan: first, RaisedAt: storetest.Start, GoneAt: clock.Now()}
	expect(t, b, store.NoticeFilter{Unseen: true}, want)
	expect(t, b, store.NoticeFilter{Gone: true}, gone, want)
	expect(t, b, store.NoticeFilter{Gone: true, Limit: 1}, gone)
	expect(t, b, store.NoticeFilter{Gone: true, After: 2}, want)
	makePlan(t, b, store.PlanByQuote)
	expect(t, b, store.NoticeFilter{}, want)
	again := makePlan(t, b, store.PlanByTick, tool)
	expect(t, b, store.NoticeFilter{}, store.Notice{ID: 3, Kind: "tool", Subject: "L1", Text: "bent", Plan: again, RaisedAt: clock.Now()})
	if second == third {
		t.Error("two plans have one id")
	}
}

func expect(t *testing.T, b *store.Books, f store.NoticeFilter, want ...store.Notice) {
	t.Helper()
	got, err := b.Notices(t.Context(), f)
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%+v: %v (-want +got):\n%s", f, err, diff)
	}
}

// Who saw a notice first is who has seen it; one that is not there cannot be seen.
func TestSeeNotice(t *testing.T) {
	b, _ := storetest.Open(t)
	makePlan(t, b, store.PlanByTick, store.Raised{Kind: "late", Subject: "L1", Text: "a day"})
	for _, name := range []string{"Isla", "Rafe"} {
		n, err := b.SeeNotice(store.WithActor(t.Context(), name), 1)
		if err != nil || n.SeenBy != "Isla" {
			t.Errorf("%s: %+v, %v", name, n, err)
		}
	}
	if _, err := b.SeeNotice(t.Context(), 9); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("notice 9: %v", err)
	}
}
