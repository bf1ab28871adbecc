package store_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

func export(t testing.TB, b *store.Books) []byte {
	t.Helper()
	file, err := b.Export(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// exported returns the shop that books export.
func exported(t testing.TB, b *store.Books) *shop.Shop {
	t.Helper()
	s, err := shop.Read(export(t, b))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Any shop that is imported comes out as it went in, byte for byte, and what
// came out does so again.
func TestImport_Export(t *testing.T) {
	for seed := range uint64(12) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			s := shoptest.Make(seed, shoptest.Size{Products: 3, Lines: 8, Pieces: 30})
			first, _ := storetest.Open(t)
			storetest.Import(t, first, s)
			if diff := cmp.Diff(string(s.Encode()), string(export(t, first))); diff != "" {
				t.Fatalf("exported (-imported +exported):\n%s", diff)
			}
			if err := first.Verify(t.Context()); err != nil {
				t.Error(err)
			}
		})
	}
}

// Books in which something has happened export the present, and import again
// into the same.
func TestImport_ExportChanged(t *testing.T) {
	b, clock := storetest.OpenYard(t)
	clock.Advance(36 * time.Hour)
	if _, err := b.PutThing(t.Context(), "downtime", "d", []byte(spareDown), 0); err != nil {
		t.Fatal(err)
	}
	file := export(t, b)
	s := exported(t, b)
	if want := shop.InstantOf(clock.Now()); s.Now != want || len(s.Downtime) != 1 {
		t.Errorf("now is %v, want %v, with downtimes %v", s.Now, want, s.Downtime)
	}
	again := storetest.OpenIn(t, t.TempDir(), clock)
	clock.Advance(time.Hour)
	if err := again.Import(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(file), string(export(t, again))); diff != "" {
		t.Errorf("exported again (-first +again):\n%s", diff)
	}
}

// spareDown is a downtime of the yard's spare oven.
const spareDown = `{"resource": "oven:spare", "from": "2027-03-03T00:00:00Z", "to": "2027-03-04T00:00:00Z", "why": "burner"}`

// Books never stand for an instant before the one that their file states.
func TestExport_FileAhead(t *testing.T) {
	b, clock := storetest.Open(t)
	s := storetest.Yard()
	s.Now.Minute += 600
	storetest.Import(t, b, s)
	for i, want := range []int64{s.Now.Minute, s.Now.Minute, s.Now.Minute + 60} {
		if got := exported(t, b).Now.Minute; got != want {
			t.Errorf("look %d: now is %d, want %d", i, got, want)
		}
		note(t, t.Context(), b, "something")
		clock.Advance(330 * time.Minute)
	}
}

// A shop goes into empty books only, and nothing of a bad one gets in.
func TestImport_Refused(t *testing.T) {
	b, _ := storetest.Open(t)
	if _, err := b.Export(t.Context()); !errors.Is(err, store.ErrConflict) {
		t.Errorf("empty books exported: %v", err)
	}
	bad := strings.Replace(string(storetest.Yard().Encode()), `"bays": 1`, `"bays": 0, "doors": 2`, 1)
	var problems strict.Problems
	if err := b.Import(t.Context(), []byte(bad)); !errors.As(err, &problems) || len(problems) != 2 {
		t.Errorf("a bad file: %v", err)
	}
	if err := b.Import(store.WithTrial(t.Context()), storetest.Yard().Encode()); err != nil {
		t.Errorf("tried: %v", err)
	}
	storetest.Import(t, b, storetest.Yard())
	if err := b.Import(t.Context(), storetest.Yard().Encode()); !errors.Is(err, store.ErrConflict) {
		t.Errorf("a second file: %v", err)
	}
	if len(notes(t, b)) != 1 {
		t.Errorf("the trail holds %v", notes(t, b))
	}
}
