package store

import (
	"context"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A MandrelChange corrects what the books say of a mandrel beside its place.
// What is nil stays as it is.
type MandrelChange struct {
	Type                              *string
	All, SinceRecoat, SinceInspection *int // cycles
	Remark                            string
}

// of returns a mandrel after the change.
func (c MandrelChange) of(m crib.Mandrel) crib.Mandrel {
	m.Type = otherwise(c.Type, m.Type)
	m.All = otherwise(c.All, m.All)
	m.SinceRecoat = otherwise(c.SinceRecoat, m.SinceRecoat)
	m.SinceInspection = otherwise(c.SinceInspection, m.SinceInspection)
	return m
}

// otherwise returns what was stated, or else what was there before.
func otherwise[T any](stated *T, before T) T {
	if stated == nil {
		return before
	}
	return *stated
}

// ChangeMandrel corrects a mandrel that is neither issued nor scrapped.
func (b *Books) ChangeMandrel(ctx context.Context, id string, c MandrelChange, rev int64) (Mandrel, error) {
	var out Mandrel
	err := b.write(ctx, func(tx *gorm.DB) error {
		row, err := mandrelRowOf(tx, id)
		if err != nil {
			return err
		}
		after := c.of(row.mandrel())
		if err := checkRev(kindMandrel, id, rev, row.Rev); err != nil {
			return err
		}
		if err := checkCorrected(tx, after, c.Remark); err != nil {
			return err
		}
		if place := crib.Place(row.Place); place == crib.Issued || place == crib.Scrapped {
			return conflict("%s is %s, so it cannot be corrected", id, place)
		}
		if err := row.book(tx, after, mandrelMoveRow{At: millis(tx), Move: corrected, Remark: c.Remark}); err != nil {
			return err
		}
		limits, err := limitsByType(tx)
		out = row.record(limits)
		return err
	})
	return out, doing(err, "change mandrel")
}

func checkCorrected(tx *gorm.DB, m crib.Mandrel, remark string) error {
	var found findings
	if err := found.refersTo(tx, "type", kindMandrelType, "mandrel type", m.Type); err != nil {
		return err
	}
	found.cycles(m.Cycles)
	found.text("remark", remark, lineLength)
	return found.err()
}
