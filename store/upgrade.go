package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/pressly/goose/v3"

	"blankwright/store/migrations"
)

// applicationID is what the first migration writes into a book's header.
const applicationID = 1651209076

func provider(conns *sql.DB) (*goose.Provider, error) {
	return goose.NewProvider(goose.DialectSQLite3, conns, migrations.Files, goose.WithDisableGlobalRegistry(true))
}

// upgrade brings a book to this program's schema. What an older program wrote
// is kept as it was, in a file beside it that is named after the new schema.
func upgrade(ctx context.Context, conns *sql.DB, path string) error {
	migrate, err := provider(conns)
	if err != nil {
		return err
	}
	have, want, err := versions(ctx, conns, migrate)
	if err != nil {
		return err
	}
	if have == want {
		return nil
	}
	if have > 0 {
		if err := keep(ctx, conns, fmt.Sprintf("%s.before-%d", path, want)); err != nil {
			return fmt.Errorf("keep a copy before the upgrade: %w", err)
		}
	}
	if _, err := migrate.Up(ctx); err != nil {
		return fmt.Errorf("upgrade from schema %d to %d: %w", have, want, err)
	}
	return foreignKeys(ctx, conns)
}

// keep copies books into a file, or the first free name after it, unless the
// last of these holds the same: an upgrade that fails at each start would fill
// the disk.
func keep(ctx context.Context, conns *sql.DB, name string) error {
	free, last := freeName(name)
	if last != "" {
		kept, err := markOf(ctx, last)
		have, failed := mark(ctx, conns)
		if err == nil && failed == nil && kept == have {
			return nil
		}
	}
	return copyInto(ctx, conns, free)
}

// markOf is the mark of the books in a file.
func markOf(ctx context.Context, file string) (string, error) {
	p, err := openPool(ctx, file, looking, 1)
	if err != nil {
		return "", err
	}
	found, err := mark(ctx, p.conns)
	return found, errors.Join(err, p.conns.Close())
}

// mark tells books from what they were before and after: their schema, and the
// last entry on their trail.
func mark(ctx context.Context, conns *sql.DB) (string, error) {
	schema, err := schemaOf(ctx, conns)
	if err != nil {
		return "", err
	}
	var last int64
	err = conns.QueryRowContext(ctx, "SELECT coalesce(max(id), 0) FROM trail").Scan(&last)
	return fmt.Sprint(schema, " ", last), err
}

// versions tells a book's schema, 0 for an empty file, and this program's.
func versions(ctx context.Context, conns *sql.DB, migrate *goose.Provider) (have, want int64, err error) {
	sources := migrate.ListSources()
	want = sources[len(sources)-1].Version
	if err := isBook(ctx, conns); err != nil {
		return 0, 0, err
	}
	have, err = schemaOf(ctx, conns)
	if err == nil && have > want {
		err = &refusal{ErrNewer, fmt.Sprintf(
			"the books were written by a newer program: their schema is %d, this program knows up to %d", have, want)}
	}
	return have, want, err
}

// schemaOf reads the number of the newest migration of a book without
// changing it, which goose itself would.
func schemaOf(ctx context.Context, conns *sql.DB) (int64, error) {
	var tables int
	if err := conns.QueryRowContext(ctx,
		"SELECT count(*) FROM sqlite_master WHERE name = 'goose_db_version'").Scan(&tables); err != nil {
		return 0, err
	}
	if tables == 0 {
		return 0, nil
	}
	var version int64
	err := conns.QueryRowContext(ctx,
		"SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied").Scan(&version)
	return version, err
}

// isBook refuses a database that is neither empty nor a book.
func isBook(ctx context.Context, conns *sql.DB) error {
	var id, tables int
	if err := conns.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if err := conns.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_master").Scan(&tables); err != nil {
		return err
	}
	if id != applicationID && tables > 0 {
		return errors.New("the file is a database, but holds no books")
	}
	return nil
}

// current refuses books of any schema but this program's.
func current(ctx context.Context, conns *sql.DB) error {
	migrate, err := provider(conns)
	if err != nil {
		return err
	}
	have, want, err := versions(ctx, conns, migrate)
	if err == nil && have < want {
		err = fmt.Errorf("the books have schema %d, not %d: serve them once to upgrade them", have, want)
	}
	return err
}
