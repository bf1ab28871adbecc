package store

import (
	"context"
	"time"

	"gorm.io/gorm"
)

// A RollChange corrects what the books say of a roll beside its moves.
type RollChange struct {
	Lot    string
	From   time.Time
	Shelf  time.Time
	Limit  time.Duration
	Thaw   time.Duration
	Remark string
}

// ChangeRoll corrects a roll that is not gone.
func (b *Books) ChangeRoll(ctx context.Context, id string, c RollChange, rev int64) (Roll, error) {
	var out Roll
	err := b.write(ctx, func(tx *gorm.DB) error {
		row, err := rollRowOf(tx, id)
		if err != nil {
			return err
		}
		if err := checkRev(kindRoll, id, rev, row.Rev); err != nil {
			return err
		}
		if row.Gone {
			return conflict("%s is gone, so it cannot be corrected", id)
		}
		var found findings
		found.lives(c.From, c.Shelf, c.Limit, c.Thaw)
		if err := found.err(); err != nil {
			return err
		}
		after := row.roll()
		after.Lot, after.From, after.Shelf, after.Limit, after.Thaw = c.Lot, c.From, c.Shelf, c.Limit, c.Thaw
		if err := row.book(tx, after, rollMoveRow{At: millis(tx), Move: corrected, Remark: c.Remark}); err != nil {
			return err
		}
		out = row.record(now(tx))
		return nil
	})
	return out, doing(err, "change roll")
}
