package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// FileName is the name of the database in the books' directory.
const FileName = "books.db"

const (
	lockFile = "books.lock" // held by the process that may write
	readers  = 4            // connections that read side by side
)

// Options say what the books need from outside.
type Options struct {
	// Now tells the time; nil is the system's clock.
	Now func() time.Time
}

func (o Options) clock() func() time.Time {
	if o.Now == nil {
		return time.Now
	}
	return o.Now
}

// Books are one shop's books. Their methods may be called side by side.
type Books struct {
	path     string
	now      func() time.Time
	lock     *flock.Flock
	writer   *pool // nil where the books were opened to read
	reader   *pool
	watchers watchers
	halls    halls
}

// Open opens the books in a directory, for this process alone, and makes both
// where they are not there. A book of an older program is upgraded, after a
// copy was kept beside it; one of a newer program is ErrNewer, and one that is
// open elsewhere ErrInUse.
func Open(ctx context.Context, dir string, options Options) (*Books, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("open books: %w", err)
	}
	lock, err := lockDir(dir)
	if err != nil {
		return nil, fmt.Errorf("open books: %w", err)
	}
	b := &Books{path: filepath.Join(dir, FileName), now: options.clock(), lock: lock}
	if err := b.open(ctx); err != nil {
		return nil, fmt.Errorf("open books in %s: %w", dir, errors.Join(err, b.Close()))
	}
	return b, nil
}

func (b *Books) open(ctx context.Context) (err error) {
	if b.writer, err = openPool(ctx, b.path, writing, 1); err != nil {
		return err
	}
	if err := upgrade(ctx, b.writer.conns, b.path); err != nil {
		return err
	}
	b.reader, err = openPool(ctx, b.path, reading, readers)
	return err
}

// OpenToRead opens books that another process may have open, to read only:
// every method that would change them fails. They must be of this program's
// own schema.
func OpenToRead(ctx context.Context, dir string, options Options) (*Books, error) {
	path := filepath.Join(dir, FileName)
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("open books to read: %w", err)
	}
	reader, err := openPool(ctx, path, reading, readers)
	if err != nil {
		return nil, fmt.Errorf("open books to read in %s: %w", dir, err)
	}
	b := &Books{path: path, now: options.clock(), reader: reader}
	if err := current(ctx, reader.conns); err != nil {
		return nil, fmt.Errorf("open books to read in %s: %w", dir, errors.Join(err, b.Close()))
	}
	return b, nil
}

// lockDir takes a directory for this process. The system gives it back when
// the process ends, however it ends.
func lockDir(dir string) (*flock.Flock, error) {
	lock := flock.New(filepath.Join(dir, lockFile))
	taken, err := lock.TryLock()
	switch {
	case err != nil:
		return nil, err
	case !taken:
		return nil, &refusal{ErrInUse, fmt.Sprintf("the books in %s are open in another process", dir)}
	}
	return lock, nil
}

// Close ends all work and gives the directory free.
func (b *Books) Close() error {
	var failed []error
	if b.reader != nil {
		failed = append(failed, b.reader.conns.Close())
	}
	if b.writer != nil {
		failed = append(failed, b.writer.conns.Close())
	}
	if b.lock != nil {
		failed = append(failed, b.lock.Unlock())
	}
	return errors.Join(failed...)
}

// Ready reports whether the books can be read and written right now.
func (b *Books) Ready(ctx context.Context) error {
	for _, p := range []*pool{b.reader, b.writer} {
		if p == nil {
			continue
		}
		if _, err := p.conns.ExecContext(ctx, "SELECT 1 FROM trail LIMIT 1"); err != nil {
			return fmt.Errorf("ready: %w", err)
		}
	}
	return nil
}
