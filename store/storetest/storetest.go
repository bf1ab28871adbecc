// Package storetest opens books for tests: in a folder of the test's own, on
// a clock that the test moves. It is for tests of every layer, and for nothing
// else.
package storetest

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	_ "blankwright/scheduler/thorough" // tests with books make garbage, too
	"blankwright/store"
)

// Start is what a Clock shows first: a Monday morning in the shop of
// shoptest.Bare, at its now.
var Start = time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)

// A Clock stands still until it is moved. It may be used side by side.
type Clock struct {
	mu  sync.Mutex
	now time.Time
}

// NewClock returns a clock that shows an instant.
func NewClock(at time.Time) *Clock { return &Clock{now: at} }

// Now returns what the clock shows.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

// Advance moves the clock on.
func (c *Clock) Advance(by time.Duration) { c.Set(c.Now().Add(by)) }

// Set moves the clock to an instant.
func (c *Clock) Set(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = at
}

// Open returns new books, and their clock at Start. They are closed when the
// test ends.
func Open(t testing.TB) (*store.Books, *Clock) {
	t.Helper()
	clock := NewClock(Start)
	return OpenIn(t, t.TempDir(), clock), clock
}

// OpenIn opens the books in a folder, as Open does.
func OpenIn(t testing.TB, dir string, clock *Clock) *store.Books {
	t.Helper()
	lay(t, filepath.Join(dir, store.FileName))
	b, err := store.Open(t.Context(), dir, store.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := b.Close(); err != nil {
			t.Error(err)
		}
	})
	return b
}

// lay puts empty books where there are none.
func lay(t testing.TB, file string) {
	t.Helper()
	if _, err := os.Stat(file); !errors.Is(err, fs.ErrNotExist) {
		return
	}
	data, err := empty()
	if err == nil {
		err = os.WriteFile(file, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// empty is the file of new books. Most of what it takes to open these is to make
// their schema, step by step, which is done once for all tests of a package.
var empty = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "blankwright")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	b, err := store.Open(context.Background(), dir, store.Options{})
	if err != nil {
		return nil, err
	}
	if err := b.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(dir, store.FileName))
})
