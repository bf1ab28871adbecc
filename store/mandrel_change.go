package store

import (
	"context"
	"errors"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A MandrelChange corrects what the books say of a mandrel beside its place.
type MandrelChange struct {
	Type   string
	Cycles crib.Cycles
	Remark string
}

// ChangeMandrel corrects a mandrel that is neither issued nor scrapped.
func (b *Books) ChangeMandrel(ctx context.Context, id string, c MandrelChange, rev int64) (Mandrel, error) {
	var out Mandrel
	err := b.write(ctx, func(tx *gorm.DB) error {
		row, err := mandrelRowOf(tx, id)
		if err != nil {
			return err
		}
		if err := errors.Join(checkRev(kindMandrel, id, rev, row.Rev), c.check(tx)); err != nil {
			return err
		}
		if place := crib.Place(row.Place); place == crib.Issued || place == crib.Scrapped {
			return conflict("%s is %s, so it cannot be corrected", id, place)
		}
		after := row.mandrel()
		after.Type, after.Cycles = c.Type, c.Cycles
		if err := row.book(tx, after, mandrelMoveRow{At: millis(tx), Move: corrected, Remark: c.Remark}); err != nil {
			return err
		}
		limits, err := limitsByType(tx)
		out = row.record(limits)
		return err
	})
	return out, doing(err, "change mandrel")
}

func (c MandrelChange) check(tx *gorm.DB) error {
	var found findings
	if err := found.refersTo(tx, "type", kindMandrelType, "mandrel type", c.Type); err != nil {
		return err
	}
	found.cycles(c.Cycles)
	return found.err()
}
