package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"blankwright/store"
	"blankwright/store/storetest"
)

// backup returns a new backup of books.
func backup(t *testing.T, b *store.Books) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "backup")
	if err := b.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	return file
}

func restore(t *testing.T, dir, file string) (kept string) {
	t.Helper()
	kept, err := store.Restore(t.Context(), dir, file)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

// files lists a folder.
func files(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return strings.Join(names, " ")
}

// A backup made while others write is sound, whole, and for its owner alone.
func TestBackup_WhileWriting(t *testing.T) {
	b, _ := storetest.Open(t)
	note(t, t.Context(), b, "first")
	var writing sync.WaitGroup
	stop := make(chan struct{})
	writing.Go(func() {
		for {
			select {
			case <-stop:
				return
			default:
				if _, err := b.Note(t.Context(), "meanwhile"); err != nil {
					t.Error(err)
				}
			}
		}
	})
	file := filepath.Join(t.TempDir(), "backup")
	err := b.Backup(t.Context(), file)
	close(stop)
	writing.Wait()
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(file)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("the backup's mode is %v, %v", info.Mode(), err)
	}
	dir := t.TempDir()
	if kept := restore(t, dir, file); kept != "" {
		t.Errorf("nothing was replaced, and %s kept", kept)
	}
	restored := storetest.OpenIn(t, dir, storetest.NewClock(storetest.Start))
	if err := restored.Verify(t.Context()); err != nil {
		t.Error(err)
	}
	if got := notes(t, restored); len(got) == 0 || got[0] != "first" {
		t.Errorf("restored notes: %v", got)
	}
}

// A backup takes no other file's place.
func TestBackup_Taken(t *testing.T) {
	b, _ := storetest.Open(t)
	if err := b.Backup(t.Context(), backup(t, b)); !errors.Is(err, store.ErrConflict) {
		t.Errorf("over another backup: %v", err)
	}
}

// A restore keeps what it replaces, with what its process had only in the
// journal when it was killed, and that can be restored in its turn.
func TestRestore_Keeps(t *testing.T) {
	dir, clock := t.TempDir(), storetest.NewClock(storetest.Start)
	b, err := store.Open(t.Context(), dir, store.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	note(t, t.Context(), b, "old")
	file := backup(t, b)
	note(t, t.Context(), b, "newer")
	killed := t.TempDir() // the files as they are while the books are open
	for _, name := range []string{"books.db", "books.db-wal"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(killed, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	kept := restore(t, killed, file)
	if got, want := files(t, killed), "books.db books.db.replaced books.db.replaced-wal books.lock"; got != want {
		t.Errorf("the folder holds %s, want %s", got, want)
	}
	b = storetest.OpenIn(t, killed, clock)
	wantNotes(t, b, "old")
	again := t.TempDir()
	restore(t, again, kept)
	wantNotes(t, storetest.OpenIn(t, again, clock), "old", "newer")
}

// What is damaged is not restored, and what is there stays.
func TestRestore_Damaged(t *testing.T) {
	b, clock := storetest.Open(t)
	for range 200 {
		note(t, t.Context(), b, strings.Repeat("long ", 100))
	}
	file := backup(t, b)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	standing := storetest.OpenIn(t, dir, clock)
	note(t, t.Context(), standing, "stays")
	if err := standing.Close(); err != nil {
		t.Fatal(err)
	}
	damages := map[string]func() []byte{
		"cut":   func() []byte { return text[:len(text)/2] },
		"empty": func() []byte { return nil },
		"holes": func() []byte {
			out := append([]byte(nil), text...)
			clear(out[len(out)/4 : len(out)/2])
			return out
		},
	}
	for name, damage := range damages {
		bad := filepath.Join(t.TempDir(), "bad")
		if err := os.WriteFile(bad, damage(), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Restore(t.Context(), dir, bad); err == nil {
			t.Errorf("%s: restored", name)
		}
	}
	wantNotes(t, storetest.OpenIn(t, dir, clock), "stays")
}
