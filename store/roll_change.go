package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
	"blankwright/store/crib"
)

// A RollChange corrects what the books say of a roll beside its moves. What is
// nil stays as it is.
type RollChange struct {
	Lot    *string
	Left   *float64 // m², as measured
	From   *time.Time
	Shelf  *time.Time
	Limit  *time.Duration
	Thaw   *time.Duration
	Remark string
}

// of returns a roll after the change.
func (c RollChange) of(r crib.Roll) crib.Roll {
	r.Lot = otherwise(c.Lot, r.Lot)
	r.Left = otherwise(c.Left, r.Left)
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
		before := row.roll()
		after := c.of(before)
		var found findings
		if !(after.Left > 0 && after.Left <= strict.Most) && c.Left != nil {
			found.say("left_m2", "is %g, but must be above 0 and at most %d: what is used up is drawn, what is no good discarded", after.Left, strict.Most)
		}
		found.text("lot", after.Lot, idLength)
		found.text("remark", c.Remark, lineLength)
		found.lives(after.From, after.Shelf, after.Limit, after.Thaw)
		if err := found.err(); err != nil {
			return err
		}
		if err := row.book(tx, after, rollMoveRow{At: millis(tx), Move: corrected, M2: after.Left - before.Left, Remark: c.Remark}); err != nil {
			return err
		}
		out = row.record(now(tx))
		return nil
	})
	return out, doing(err, "change roll")
}
