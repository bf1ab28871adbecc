package store

import (
	"context"
	"slices"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// RemoveMandrel takes a mandrel out of the books that was entered by mistake:
// one that has never moved since. Its entry stays on the trail.
func (b *Books) RemoveMandrel(ctx context.Context, id string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := mandrelRowOf(tx, id)
		if err == nil {
			err = checkRev(kindMandrel, id, rev, row.Rev)
		}
		if err != nil {
			return err
		}
		var moves []string
		if err := tx.Model(&mandrelMoveRow{}).Where("mandrel = ?", id).Order("id").Pluck("move", &moves).Error; err != nil {
			return err
		}
		if crib.Place(row.Place) == crib.Issued || !onlyEntered(moves) {
			return conflict("%s is not only entered: what happened to it stays in the books, so scrap it instead", id)
		}
		return removeEntered(tx, kindMandrel, id, row.told(), &mandrelMoveRow{}, "mandrel = ?", row)
	}), "remove mandrel")
}

// RemoveRoll takes a roll out of the books that was entered by mistake, as
// RemoveMandrel does.
func (b *Books) RemoveRoll(ctx context.Context, id string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := rollRowOf(tx, id)
		if err == nil {
			err = checkRev(kindRoll, id, rev, row.Rev)
		}
		if err != nil {
			return err
		}
		var moves []string
		if err := tx.Model(&rollMoveRow{}).Where("roll = ?", id).Order("id").Pluck("move", &moves).Error; err != nil {
			return err
		}
		if !onlyEntered(moves) {
			return conflict("%s is not only entered: what happened to it stays in the books, so discard it instead", id)
		}
		return removeEntered(tx, kindRoll, id, row.told(), &rollMoveRow{}, "roll = ?", row)
	}), "remove roll")
}

// onlyEntered reports whether a history tells of nothing but an entry and its
// corrections.
func onlyEntered(moves []string) bool {
	return !slices.ContainsFunc(moves, func(m string) bool { return m != entered && m != corrected })
}

// removeEntered deletes a row with its history, and says so on the trail.
func removeEntered(tx *gorm.DB, kind, id string, told, history any, of string, row any) error {
	if err := tx.Where(of, id).Delete(history).Error; err != nil {
		return err
	}
	if err := tx.Delete(row).Error; err != nil {
		return err
	}
	return trail(tx, kind, id, "removed", told, nil)
}
