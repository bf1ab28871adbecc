package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// errTrial ends a transaction that was only to be tried.
var errTrial = errors.New("only a trial")

// write runs one transaction that may change the books. All of it happens at
// one moment; it is on the disk when write returns nil, and undone otherwise.
// What tx does carries the caller's context.
func (b *Books) write(ctx context.Context, change func(tx *gorm.DB) error) error {
	if b.writer == nil {
		return errors.New("the books are open to read only")
	}
	err := b.writer.WithContext(ctx).Transaction(func(tx *gorm.DB) error {
		if err := change(b.atMoment(tx)); err != nil {
			return err
		}
		if trial(ctx) {
			return errTrial
		}
		return nil
	})
	switch {
	case errors.Is(err, errTrial):
		return nil
	case err == nil:
		b.watchers.wake()
	}
	return err
}

// read runs one transaction that sees the books at one instant.
func (b *Books) read(ctx context.Context, look func(tx *gorm.DB) error) error {
	return b.reader.WithContext(ctx).Transaction(func(tx *gorm.DB) error {
		return look(b.atMoment(tx))
	})
}

// atMoment gives a transaction its moment, to the millisecond, which is what
// the books hold. It is taken when the transaction has begun, not when it began
// to wait for its turn, so that changes have the order of their moments.
func (b *Books) atMoment(tx *gorm.DB) *gorm.DB {
	moment := b.now().UTC().Truncate(time.Millisecond)
	return tx.WithContext(context.WithValue(tx.Statement.Context, momentKey{}, moment))
}

// now is a transaction's moment.
func now(tx *gorm.DB) time.Time { return moment(tx.Statement.Context) }

// millis is a transaction's moment as the books hold it.
func millis(tx *gorm.DB) int64 { return now(tx).UnixMilli() }

// instant turns what the books hold into a time.
func instant(millis int64) time.Time { return time.UnixMilli(millis).UTC() }

// doing names an operation in an error, which it may be without.
func doing(err error, format string, args ...any) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf(format+": %w", append(args, err)...)
}
