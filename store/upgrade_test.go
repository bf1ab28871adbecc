package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gorm.io/gorm"

	"blankwright/store"
	"blankwright/store/storetest"
)

// Books of every older schema are upgraded with what they hold, and kept as
// they were.
func TestOpen_Upgrade(t *testing.T) {
	old, err := filepath.Glob("../testdata/books/schema-*.db")
	if err != nil || len(old) == 0 {
		t.Fatalf("there are no old books: %v", err)
	}
	for _, file := range old {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, dir := upgraded(t, file)
			if err := b.Verify(t.Context()); err != nil {
				t.Error(err)
			}
			if all := notes(t, b); len(all) == 0 || !strings.HasPrefix(all[0], "kept from schema") {
				t.Errorf("the trail holds %v", all)
			}
			if kept, _ := filepath.Glob(filepath.Join(dir, "books.db.before-*")); len(kept) != 1 {
				t.Errorf("kept are %v", kept)
			}
		})
	}
}

// upgraded opens a copy of old books.
func upgraded(t *testing.T, file string) (b *store.Books, dir string) {
	t.Helper()
	dir = t.TempDir()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "books.db"), text, 0o600); err != nil {
		t.Fatal(err)
	}
	return storetest.OpenIn(t, dir, storetest.NewClock(storetest.Start)), dir
}

// Books that are put back as they were before an upgrade are kept once, others
// in a file of their own.
func TestOpen_UpgradeKeepsOnce(t *testing.T) {
	dir := t.TempDir()
	for i, file := range []string{"schema-1.db", "schema-1.db", "schema-3.db", "schema-1.db"} {
		text, err := os.ReadFile("../testdata/books/" + file)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "books.db"), text, 0o600); err != nil {
			t.Fatal(err)
		}
		b, err := store.Open(t.Context(), dir, store.Options{})
		if err == nil {
			err = b.Close()
		}
		if err != nil {
			t.Fatal(err)
		}
		kept, err := filepath.Glob(filepath.Join(dir, "books.db.before-*"))
		if want := []int{1, 1, 2, 3}[i]; err != nil || len(kept) != want {
			t.Errorf("after opening %d books kept are %v, want %d", i+1, kept, want)
		}
	}
}

// Demand and stock of older books are what they were, and go on.
func TestOpen_UpgradeDemand(t *testing.T) {
	b, _ := upgraded(t, "../testdata/books/schema-3.db")
	open := map[string]int{}
	for _, l := range exported(t, b).Demand {
		open[l.ID] = l.Quantity
	}
	if diff := cmp.Diff(map[string]int{"O-00001/1": 1, "O-00001/2": 1, "C-00001": 1, "RESTOCK/ONE": 2}, open); diff != "" {
		t.Errorf("open lines (-want +got):\n%s", diff)
	}
	want := store.Holding{Product: "ONE", OnHand: 3, Wanted: 1, Level: 4, Kept: 2, Short: 2}
	if diff := cmp.Diff(want, holding(t, b, "ONE")); diff != "" {
		t.Errorf("holding (-want +got):\n%s", diff)
	}
	stock(t, b, "ONE", 2)
	enter(t, b, "GULL", sets(1, "TWO", 3))
	balanced(t, b)
}

// A line of older books, of which nobody said so, is not held back, and can be.
func TestOpen_UpgradeHold(t *testing.T) {
	b, _ := upgraded(t, "../testdata/books/schema-51.db")
	before := len(exported(t, b).Demand)
	must[store.Line](t)(b.HoldLine(t.Context(), "O-00001/1", store.Hold{Why: "credit"}, 0))
	if after := len(exported(t, b).Demand); before != 4 || after != before-2 {
		t.Errorf("%d lines are asked for, and %d when two are held", before, after)
	}
	balanced(t, b)
}

// Books of a newer program are left alone, with a message that says so.
func TestOpen_Newer(t *testing.T) {
	dir := t.TempDir()
	b, err := store.Open(t.Context(), dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	err = b.Write(t.Context(), func(tx *gorm.DB) error {
		return tx.Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (99999, 1)").Error
	})
	if err := errors.Join(err, b.Close()); err != nil {
		t.Fatal(err)
	}
	for name, open := range map[string]func() error{
		"open":         func() error { _, err := store.Open(t.Context(), dir, store.Options{}); return err },
		"open to read": func() error { _, err := store.OpenToRead(t.Context(), dir, store.Options{}); return err },
		"restore": func() error {
			_, err := store.Restore(t.Context(), t.TempDir(), filepath.Join(dir, "books.db"))
			return err
		},
	} {
		err := open()
		if !errors.Is(err, store.ErrNewer) || !strings.Contains(err.Error(), "newer program: their schema is 99999") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
