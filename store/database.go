package store

import (
	"context"
	"database/sql"
	"errors"
	"net/url"
	"path/filepath"
	"strings"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
	driver "modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// dialect is gorm's SQLite over the driver in pure Go, whose errors gorm does
// not know by itself.
type dialect struct{ *sqlite.Dialector }

// Translate names the errors that callers tell apart, by SQLite's own codes.
func (dialect) Translate(err error) error {
	var failed *driver.Error
	if !errors.As(err, &failed) {
		return err
	}
	switch failed.Code() {
	case lib.SQLITE_CONSTRAINT_PRIMARYKEY, lib.SQLITE_CONSTRAINT_UNIQUE:
		return errors.Join(gorm.ErrDuplicatedKey, err)
	case lib.SQLITE_CONSTRAINT_FOREIGNKEY, lib.SQLITE_CONSTRAINT_TRIGGER:
		return errors.Join(gorm.ErrForeignKeyViolated, err)
	case lib.SQLITE_CONSTRAINT_CHECK:
		return errors.Join(gorm.ErrCheckConstraintViolated, err)
	}
	return err
}

// A role is what a pool of connections is for.
type role int

const (
	// writing is for one connection that takes the database's lock as its
	// transaction begins: a lock taken later fails where another was quicker.
	writing role = iota
	// reading is for several that see the last commit and can change nothing.
	reading
	// looking is reading of a file in which even the journal stays as it is.
	looking
)

// dsn says how each connection of a pool is opened. A commit is on the disk
// when it returns (synchronous FULL), and readers never wait for the writer
// (WAL).
func dsn(path string, r role) string {
	absolute, err := filepath.Abs(path)
	if err != nil {
		absolute = path // opening it will fail with the reason
	}
	absolute = filepath.ToSlash(absolute)
	if !strings.HasPrefix(absolute, "/") { // a drive of Windows
		absolute = "/" + absolute
	}
	pragmas := []string{"busy_timeout(5000)", "foreign_keys(1)", "synchronous(FULL)"}
	query := url.Values{"_time_format": {"sqlite"}, "_timezone": {"UTC"}}
	switch r {
	case writing:
		query.Set("_txlock", "immediate")
		pragmas = append(pragmas, "journal_mode(WAL)")
	case reading:
		query.Set("mode", "rw") // a reader makes no file
		pragmas = append(pragmas, "query_only(1)")
	case looking:
		query.Set("mode", "ro")
	}
	query["_pragma"] = pragmas
	return (&url.URL{Scheme: "file", Path: absolute, RawQuery: query.Encode()}).String()
}

// A pool is gorm's view of some connections, and the connections.
type pool struct {
	*gorm.DB
	conns *sql.DB
}

func openPool(ctx context.Context, path string, r role, connections int) (*pool, error) {
	conns, err := sql.Open("sqlite", dsn(path, r))
	if err != nil {
		return nil, err
	}
	conns.SetMaxOpenConns(connections)
	conns.SetMaxIdleConns(connections)
	if err := conns.PingContext(ctx); err != nil {
		return nil, errors.Join(err, conns.Close())
	}
	db, err := gorm.Open(dialect{&sqlite.Dialector{Conn: conns}}, &gorm.Config{
		SkipDefaultTransaction: true, // every method opens its own
		TranslateError:         true,
		Logger:                 logger.Discard,
	})
	if err != nil {
		return nil, errors.Join(err, conns.Close())
	}
	return &pool{db, conns}, nil
}
