package store

import (
	"context"

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
