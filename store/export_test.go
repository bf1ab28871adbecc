package store

import (
	"context"
	"time"

	"gorm.io/gorm"
)

// Write is write, for tests of what every method rests on.
func (b *Books) Write(ctx context.Context, change func(tx *gorm.DB) error) error {
	return b.write(ctx, change)
}

// Note writes an entry on the trail and returns its text.
func (b *Books) Note(ctx context.Context, text string) (string, error) {
	return once(ctx, b, "note", text, func(tx *gorm.DB) (string, error) {
		return text, trail(tx, "note", text, "noted", nil, text)
	})
}

// Draw is drawPrepreg at the present, for tests.
func (b *Books) Draw(ctx context.Context, prepreg string, m2 float64) (good time.Time, lacking float64, err error) {
	err = b.write(ctx, func(tx *gorm.DB) error {
		d, err := drawPrepreg(tx, prepreg, m2, now(tx), "cut for a test")
		good, lacking = d.good, d.lacking
		return err
	})
	return good, lacking, err
}

// Undraw is undrawPrepreg at the present, for tests.
func (b *Books) Undraw(ctx context.Context, roll string, m2 float64) error {
	return b.write(ctx, func(tx *gorm.DB) error { return undrawPrepreg(tx, roll, m2, now(tx), "not cut after all") })
}
