package store

import (
	"context"
	"errors"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// errEmpty refuses what needs a shop in the books.
var errEmpty = conflict("the books are empty: import a shop file first")

// importRow says which file the books began with. There is one at most.
type importRow struct {
	ID    int64 `gorm:"primaryKey"`
	Now   string
	Trail int64 // the entry of the import: as long as it is the last, nothing has happened since
}

func (importRow) TableName() string { return "imports" }

// Import writes a whole shop file into empty books. A file with problems is
// refused with all of them, and books that hold a shop refuse any.
func (b *Books) Import(ctx context.Context, file []byte) error {
	s, err := shop.Read(file)
	if err != nil {
		return doing(err, "import")
	}
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		return importShop(tx, s)
	}), "import")
}

func importShop(tx *gorm.DB, s *shop.Shop) error {
	switch _, err := takeThing(tx, "settings", "settings"); {
	case err == nil:
		return conflict("the books hold a shop already: a shop file is imported into empty books only")
	case !errors.Is(err, ErrNotFound):
		return err
	}
	for _, part := range sections() {
		if err := part.save(tx, s); err != nil {
			return doing(err, "save %s", part.name)
		}
	}
	if err := trail(tx, "shop", s.Name, "imported", nil, imported(s)); err != nil {
		return err
	}
	last, err := lastEntry(tx)
	if err != nil {
		return err
	}
	return tx.Create(&importRow{Now: s.Now.String(), Trail: last}).Error
}

// imported is what the trail says of an import.
func imported(s *shop.Shop) any {
	return map[string]any{
		"now": s.Now, "products": len(s.Products), "lines": len(s.Demand), "mandrels": len(s.Mandrels), "supply": len(s.Supply),
	}
}

// Export writes the shop as the books have it into a shop file, which import
// reads into empty books: what these export is the same, byte for byte.
func (b *Books) Export(ctx context.Context) ([]byte, error) {
	var s *shop.Shop
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		s, err = assemble(tx)
		return err
	})
	if err != nil {
		return nil, doing(err, "export")
	}
	return s.Encode(), nil
}

// asOf is the instant that the books stand for: the present, but never before
// the now of the file that they began with, and that very now until something
// happens.
func asOf(tx *gorm.DB, zone *time.Location) (shop.Instant, error) {
	at := shop.InstantOf(now(tx).In(zone))
	var began importRow
	if err := tx.Take(&began).Error; err != nil {
		if missing(err) {
			return at, nil
		}
		return at, err
	}
	var stated shop.Instant
	if err := stated.UnmarshalText([]byte(began.Now)); err != nil {
		return at, err
	}
	last, err := lastEntry(tx)
	if last == began.Trail || at.Minute < stated.Minute {
		return stated, err
	}
	return at, err
}
