package store

import (
	"errors"
	"fmt"

	"gorm.io/gorm"
)

// What a method refuses is one of these, or strict.Problems where something
// that was stated is wrong. Each is wrapped with what it is about.
var (
	// ErrNotFound says that there is nothing with such an id.
	ErrNotFound = errors.New("not found")
	// ErrStale says that a record was changed since the caller looked at it.
	ErrStale = errors.New("changed meanwhile")
	// ErrConflict says that the books, as they stand, don't allow it.
	ErrConflict = errors.New("conflict")
	// ErrKeyUsed is the conflict of a key that was used for something else.
	ErrKeyUsed = fmt.Errorf("key used: %w", ErrConflict)
	// ErrNewer says that a file was written by a newer program.
	ErrNewer = errors.New("newer than this program")
	// ErrInUse says that another process has the books open.
	ErrInUse = errors.New("in use")
)

// A refusal is a kind of error with a text of its own.
type refusal struct {
	kind error
	text string
}

func (r *refusal) Error() string { return r.text }
func (r *refusal) Unwrap() error { return r.kind }

// notFound says which record is not there.
func notFound(what, id string) error {
	return &refusal{ErrNotFound, fmt.Sprintf("there is no %s %q", what, id)}
}

// conflict says what stands against a change, and what would be possible.
func conflict(format string, args ...any) error {
	return &refusal{ErrConflict, fmt.Sprintf(format, args...)}
}

// checkRev refuses a change by a caller that saw another revision. Revision 0
// asks for no check.
func checkRev(what, id string, seen, have int64) error {
	if seen == 0 || seen == have {
		return nil
	}
	return &refusal{ErrStale, fmt.Sprintf("%s %q is at revision %d, not %d: look at it again", what, id, have, seen)}
}

// missing reports whether a query found no row.
func missing(err error) bool { return errors.Is(err, gorm.ErrRecordNotFound) }

func isNotFound(err error) bool { return errors.Is(err, ErrNotFound) }
