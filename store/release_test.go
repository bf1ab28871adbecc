package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/store"
	"blankwright/store/crib"
)

// What is released stands in the shop file as it was planned, and the next plan
// keeps it.
func TestRelease(t *testing.T) {
	b := newBench(t)
	id := b.plan()
	r, err := b.Release(b.Context(), id, b.clock.Now().Add(30*24*time.Hour))
	b.must(err)
	if r.Plan != id || len(r.Loads) == 0 {
		t.Fatalf("the release is %+v", r)
	}
	s := exported(t, b.Books)
	if s.Released == nil || len(s.Released.Loads) != len(r.Loads) {
		t.Fatalf("released in the file: %+v", s.Released)
	}
	b.plan() // judges that it keeps them
	in, err := b.PlanInForce(b.Context())
	b.must(err)
	if in.ID != id {
		t.Errorf("plan %d is in force, not %d", in.ID, id)
	}
	b.must(b.Verify(b.Context()))
}

// A release is refused where there is nothing to release, where the plan does
// not know of what was released since, and of plans that nobody works by.
func TestRelease_Refused(t *testing.T) {
	b := newBench(t)
	far := b.clock.Now().Add(60 * 24 * time.Hour)
	first, second := b.plan(), b.plan()
	_, err := b.Release(b.Context(), second, b.clock.Now().Add(-time.Hour))
	refuses(t, err, store.ErrConflict, "no load of plan 2 starts before")
	_, err = b.Release(b.Context(), second, far)
	b.must(err)
	_, err = b.Release(b.Context(), second, far)
	refuses(t, err, store.ErrConflict, "all of plan 2 is released")
	_, err = b.Release(b.Context(), first, far)
	refuses(t, err, store.ErrConflict, "plan 1 does not know load L001, which was released since it was made")
	_, err = b.Release(b.Context(), 99, far)
	refuses(t, err, store.ErrNotFound, "")
}

func refuses(t *testing.T, err, kind error, text string) {
	t.Helper()
	if !errors.Is(err, kind) || !strings.Contains(err.Error(), text) {
		t.Errorf("got %v, want %v with %q", err, kind, text)
	}
}

// A release is undone as long as nothing of it has begun. The loads of the next
// one get other ids.
func TestUnrelease(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.must(b.Unrelease(b.Context(), 1))
	if s := exported(t, b.Books); s.Released != nil {
		t.Errorf("still released: %+v", s.Released)
	}
	refuses(t, b.Unrelease(b.Context(), 1), store.ErrConflict, "was undone already")
	again := b.released()
	_, err := b.MoveMandrels(b.Context(), []store.Seen{{ID: "m1"}}, crib.Order{Move: crib.Issue, Load: again})
	b.must(err)
	refuses(t, b.Unrelease(b.Context(), 2), store.ErrConflict, "mandrels are issued for release 2: 1 to load "+again+"; return them first")
	if again == load {
		t.Errorf("load %s is there again", load)
	}
	as, err := b.ReleasedAs(b.Context(), 2)
	if b.must(err); as[load] != again {
		t.Errorf("load %s of plan 2 is released as %q, not %s: %v", load, as[load], again, as)
	}
	b.do(b.tasks(again, "TWO-A", "cut")[0])
	refuses(t, b.Unrelease(b.Context(), 2), store.ErrConflict, "load "+again+" of release 2 has begun")
	all, err := b.Releases(b.Context(), 0, 0)
	b.must(err)
	if len(all) != 2 || all[0].ID != 2 || !all[0].Undone.IsZero() || all[1].Undone.IsZero() {
		t.Errorf("the releases are %+v", all)
	}
}

// A load that went through all stages is over: it leaves the shop file, its
// sets are in stock, and its last set-ups are told.
func TestRelease_Over(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.cured(load)
	for _, stage := range []string{"pull", "strip", "trim"} {
		b.stage(load, stage)
	}
	s := exported(t, b.Books)
	if s.Released != nil {
		t.Errorf("still released: %+v", s.Released.Loads)
	}
	if key := s.Stations.Tack.LastSetup; len(key) != 1 || *key[0] != "mandrel" {
		t.Errorf("tack is left set up for %v", key)
	}
	if got := b.stock("TWO"); got != 8 {
		t.Errorf("%d sets are in stock", got)
	}
	b.clock.Advance(40 * 24 * time.Hour)
	if diff := cmp.Diff(s.Stations, exported(t, b.Books).Stations); diff != "" {
		t.Errorf("forty days later the stations are (-want +got):\n%s", diff)
	}
	l, err := b.FloorLoad(b.Context(), load)
	b.must(err)
	if l.Finished.IsZero() || len(l.Tasks) == 0 {
		t.Errorf("the load is %+v", l)
	}
	b.must(b.Verify(b.Context()))
}
