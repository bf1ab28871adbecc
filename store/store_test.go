package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"gorm.io/gorm"

	"blankwright/store"
	"blankwright/store/storetest"
)

// note writes an entry, which must work.
func note(t *testing.T, ctx context.Context, b *store.Books, text string) {
	t.Helper()
	if got, err := b.Note(ctx, text); err != nil || got != text {
		t.Fatalf("note %q: %q, %v", text, got, err)
	}
}

// notes returns what is noted, the oldest first.
func notes(t *testing.T, b *store.Books) []string {
	t.Helper()
	all, err := b.Events(t.Context(), 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range all {
		out = append(out, e.Of)
	}
	return out
}

func wantNotes(t *testing.T, b *store.Books, want ...string) {
	t.Helper()
	if diff := cmp.Diff(want, notes(t, b)); diff != "" {
		t.Errorf("notes (-want +got):\n%s", diff)
	}
}

// What was written is there after the books were closed and opened again.
func TestOpen_Again(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a folder? with #odd %41 name")
	b, err := store.Open(t.Context(), dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	note(t, t.Context(), b, "one")
	if err := errors.Join(b.Verify(t.Context()), b.Ready(t.Context()), b.Close()); err != nil {
		t.Fatal(err)
	}
	b = storetest.OpenIn(t, dir, storetest.NewClock(storetest.Start))
	wantNotes(t, b, "one")
}

// Books that are open are refused to a second writer, and not to a reader.
func TestOpen_InUse(t *testing.T) {
	dir := t.TempDir()
	b := storetest.OpenIn(t, dir, storetest.NewClock(storetest.Start))
	if _, err := store.Open(t.Context(), dir, store.Options{}); !errors.Is(err, store.ErrInUse) {
		t.Errorf("opened a second time: %v", err)
	}
	if _, err := store.Restore(t.Context(), dir, backup(t, b)); !errors.Is(err, store.ErrInUse) {
		t.Errorf("restored while open: %v", err)
	}
	reader, err := store.OpenToRead(t.Context(), dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := reader.Close(); err != nil {
			t.Error(err)
		}
	}()
	note(t, t.Context(), b, "one")
	wantNotes(t, reader, "one")
	if _, err := reader.Note(t.Context(), "two"); err == nil {
		t.Error("a reader wrote")
	}
}

// A database that holds something else is not taken for books.
func TestOpen_Foreign(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "books.db")
	if err := os.WriteFile(file, []byte(strings.Repeat("no database ", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(t.Context(), dir, store.Options{}); err == nil {
		t.Error("a text was opened as books")
	}
	if _, err := store.Restore(t.Context(), t.TempDir(), file); err == nil {
		t.Error("a text was restored as books")
	}
}

// A failed change, and a trial, leave nothing behind; a trial has its answer.
func TestWrite_Undone(t *testing.T) {
	b, _ := storetest.Open(t)
	failed := errors.New("failed")
	err := b.Write(t.Context(), func(tx *gorm.DB) error {
		return errors.Join(tx.Exec("INSERT INTO keys VALUES ('a', 'k', 0, 'w', 'r', '1')").Error, failed)
	})
	if !errors.Is(err, failed) {
		t.Errorf("the error is %v", err)
	}
	note(t, store.WithTrial(store.WithKey(t.Context(), "k")), b, "tried")
	wantNotes(t, b)
	note(t, store.WithKey(t.Context(), "k"), b, "done")
	wantNotes(t, b, "done")
}

// A key does a thing once for each actor, and is not for two things.
func TestOnce(t *testing.T) {
	b, clock := storetest.Open(t)
	ann, bob := store.WithActor(t.Context(), "ann"), store.WithActor(t.Context(), "bob")
	note(t, store.WithKey(ann, "k"), b, "one")
	note(t, store.WithKey(ann, "k"), b, "one")
	note(t, store.WithKey(bob, "k"), b, "one")
	wantNotes(t, b, "one", "one")
	if _, err := b.Note(store.WithKey(ann, "k"), "two"); !errors.Is(err, store.ErrConflict) {
		t.Errorf("a key for another request: %v", err)
	}
	clock.Advance(31 * 24 * time.Hour)
	note(t, store.WithKey(ann, "other"), b, "three")
	note(t, store.WithKey(ann, "k"), b, "two")
	wantNotes(t, b, "one", "one", "three", "two")
}

// An entry says who changed what, when, and from what to what.
func TestTrail(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := store.WithRequest(store.WithActor(t.Context(), "ann"), "r1")
	note(t, ctx, b, "one")
	clock.Advance(time.Hour)
	note(t, t.Context(), b, "two")
	want := store.Entry{
		ID: 1, At: storetest.Start, Actor: "ann", Request: "r1", Kind: "note", Of: "one", What: "noted",
		From: []byte("null"), To: []byte(`"one"`),
	}
	all, err := b.Trail(t.Context(), store.TrailFilter{})
	if err != nil || len(all) != 2 {
		t.Fatalf("%d entries, %v", len(all), err)
	}
	if diff := cmp.Diff(want, all[1]); diff != "" {
		t.Errorf("entry (-want +got):\n%s", diff)
	}
	if all[0].Actor != store.System || all[0].Of != "two" {
		t.Errorf("the newest entry is %+v", all[0])
	}
}

// A filter of the trail leaves what it asks for.
func TestTrail_Filter(t *testing.T) {
	b, clock := storetest.Open(t)
	for _, text := range []string{"one", "two", "three"} {
		note(t, store.WithActor(t.Context(), "ann-"+text), b, text)
		clock.Advance(time.Hour)
	}
	tests := []struct {
		name string
		f    store.TrailFilter
		want string
	}{
		{"all", store.TrailFilter{}, "[three two one]"},
		{"kind", store.TrailFilter{Kind: "order"}, "[]"},
		{"id", store.TrailFilter{Kind: "note", Of: "two"}, "[two]"},
		{"actor", store.TrailFilter{Actor: "ann-one"}, "[one]"},
		{"since", store.TrailFilter{Since: storetest.Start.Add(time.Hour)}, "[three two]"},
		{"until", store.TrailFilter{Until: storetest.Start.Add(time.Hour)}, "[one]"},
		{"next page", store.TrailFilter{Before: 3, Limit: 1}, "[two]"},
	}
	for _, test := range tests {
		all, err := b.Trail(t.Context(), test.f)
		var of []string
		for _, e := range all {
			of = append(of, e.Of)
		}
		if got := fmt.Sprint(of); err != nil || got != test.want {
			t.Errorf("%s: %s, %v, want %s", test.name, got, err, test.want)
		}
	}
}

// Nobody changes or cuts the trail, not even this program.
func TestTrail_Stays(t *testing.T) {
	b, _ := storetest.Open(t)
	note(t, t.Context(), b, "one")
	for _, change := range []string{"UPDATE trail SET actor = 'eve'", "DELETE FROM trail"} {
		err := b.Write(t.Context(), func(tx *gorm.DB) error { return tx.Exec(change).Error })
		if err == nil {
			t.Errorf("%s: done", change)
		}
	}
	wantNotes(t, b, "one")
}

// A watcher is woken by what was done, not by what was tried or failed, and
// never holds up a writer.
func TestWatch(t *testing.T) {
	b, _ := storetest.Open(t)
	wake, stop := b.Watch()
	note(t, store.WithTrial(t.Context()), b, "tried")
	select {
	case <-wake:
		t.Error("woken by a trial")
	default:
	}
	note(t, t.Context(), b, "one")
	note(t, t.Context(), b, "two")
	<-wake
	select {
	case <-wake:
		t.Error("two wakes were kept")
	default:
	}
	stop()
	note(t, t.Context(), b, "three")
	select {
	case <-wake:
		t.Error("woken after the end")
	default:
	}
	if last, err := b.LastEvent(t.Context()); last != 3 || err != nil {
		t.Errorf("the last event is %d, %v", last, err)
	}
}

// Many writers side by side lose nothing and wait for each other.
func TestWrite_SideBySide(t *testing.T) {
	b, _ := storetest.Open(t)
	var all sync.WaitGroup
	for w := range 8 {
		all.Go(func() {
			for i := range 10 {
				if _, err := b.Note(t.Context(), fmt.Sprintf("%d-%d", w, i)); err != nil {
					t.Error(err)
				}
				if _, err := b.Events(t.Context(), 0, 1); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if got := len(notes(t, b)); got != 80 {
		t.Errorf("%d entries, want 80", got)
	}
}
