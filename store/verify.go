package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A balance is one sum that the books must always show.
type balance struct {
	name  string
	check func(tx *gorm.DB) error // says what is out of balance
}

// balances are all that Verify counts. Whoever keeps a new kind of record adds
// its own.
func balances() []balance {
	return []balance{
		{"shop", checkShop},
		{"mandrels", checkMandrels},
		{"rolls", checkRolls},
		{"stock", checkStock},
		{"shipped", checkShipped},
		{"pieces", checkPieces},
		{"loose pieces", checkLoose},
	}
}

// checkShop holds the books to be a valid shop file.
func checkShop(tx *gorm.DB) error {
	s, err := assemble(tx)
	if errors.Is(err, errEmpty) {
		return nil
	}
	if err == nil {
		_, err = shop.Read(s.Encode())
	}
	return err
}

// Verify reads all of the books and reports everything that is wrong with
// them: in the file, between its tables, and in what must add up.
func (b *Books) Verify(ctx context.Context) error {
	return doing(b.read(ctx, func(tx *gorm.DB) error {
		found := []error{sound(ctx, connection{tx})}
		for _, balance := range balances() {
			found = append(found, doing(balance.check(tx), "%s", balance.name))
		}
		return errors.Join(found...)
	}), "verify")
}

// A querier asks a database, within a transaction or without one.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// connection is a transaction of gorm's as a querier.
type connection struct{ tx *gorm.DB }

// QueryContext asks within the transaction.
func (c connection) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	return c.tx.Statement.ConnPool.QueryContext(ctx, query, args...)
}

// sound has SQLite look through the whole file.
func sound(ctx context.Context, db querier) error {
	return errors.Join(integrity(ctx, db), foreignKeys(ctx, db))
}

func integrity(ctx context.Context, db querier) error {
	return eachRow(ctx, db, "PRAGMA integrity_check(20)", func(rows *sql.Rows) (found, err error) {
		var line string
		if err := rows.Scan(&line); err != nil || line == "ok" {
			return nil, err
		}
		return errors.New("integrity: " + line), nil
	})
}

func foreignKeys(ctx context.Context, db querier) error {
	return eachRow(ctx, db, "PRAGMA foreign_key_check", func(rows *sql.Rows) (found, err error) {
		var table, parent string
		var row, key sql.NullInt64
		if err := rows.Scan(&table, &row, &parent, &key); err != nil {
			return nil, err
		}
		return fmt.Errorf("row %d of %s refers to nothing in %s", row.Int64, table, parent), nil
	})
}

// eachRow returns all that is found in the rows of a query, or the error that
// kept it from looking.
func eachRow(ctx context.Context, db querier, query string, look func(*sql.Rows) (found, err error)) error {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return fmt.Errorf("%s: %w", query, err)
	}
	var all []error
	for rows.Next() {
		found, err := look(rows)
		if err != nil {
			return errors.Join(err, rows.Close())
		}
		all = append(all, found)
	}
	return errors.Join(append(all, rows.Err(), rows.Close())...)
}
