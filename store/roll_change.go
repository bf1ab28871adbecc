package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A RollChange corrects what the books say of a roll beside its moves. What is
// nil stays as it is.
type RollChange struct {
	Lot    *string
	From   *time.Time
	Shelf  *time.Time
	Limit  *time.Duration
	Thaw   *time.Duration
	Remark string
}

// of returns a roll after the change.
func (c RollChange) of(r crib.Roll) crib.Roll {
	r.Lot = otherwise(c.Lot, r.Lot)
	r.From = otherwise(c.From, r.From)
	r.Shelf = otherwise(c.Shelf, r.Shelf)
	r.Limit = otherwise(c.Limit, r.Limit)
	r.Thaw = otherwise(c.Thaw, r.Thaw)
	return r
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
		after := c.of(row.roll())
		var found findings
		found.text("lot", after.Lot, idLength)
		found.text("remark", c.Remark, lineLength)
		found.lives(after.From, after.Shelf, after.Limit, after.Thaw)
		if err := found.err(); err != nil {
			return err
		}
		if err := row.book(tx, after, rollMoveRow{At: millis(tx), Move: corrected, Remark: c.Remark}); err != nil {
			return err
		}
		out = row.record(now(tx))
		return nil
	})
	return out, doing(err, "change roll")
}
