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
	rows, err := db.QueryContext(ctx, "PRAGMA integrity_check(20)")
	if err != nil {
		return fmt.Errorf("integrity: %w", err)
	}
	defer rows.Close()
	var found []error
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			return err
		}
		if line != "ok" {
			found = append(found, errors.New("integrity: "+line))
		}
	}
	return errors.Join(append(found, rows.Err())...)
}

func foreignKeys(ctx context.Context, db querier) error {
	rows, err := db.QueryContext(ctx, "PRAGMA foreign_key_check")
	if err != nil {
		return fmt.Errorf("foreign keys: %w", err)
	}
	defer rows.Close()
	var found []error
	for rows.Next() {
		var table, parent string
		var row, key sql.NullInt64
		if err := rows.Scan(&table, &row, &parent, &key); err != nil {
			return err
		}
		found = append(found, fmt.Errorf("row %d of %s refers to nothing in %s", row.Int64, table, parent))
	}
	return errors.Join(append(found, rows.Err())...)
}
