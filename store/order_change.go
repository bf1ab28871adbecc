package store

import (
	"context"
	"errors"
	"reflect"

	"gorm.io/gorm"
)

// ChangeOrder gives an order other terms. Whether it ships complete is then so
// for all of its lines.
func (b *Books) ChangeOrder(ctx context.Context, id string, terms OrderTerms, rev int64) (Order, error) {
	return b.changeOrder(ctx, "change order", id, rev, func(tx *gorm.DB, before Order, r orderRow) error {
		var p findings
		if err := p.order(tx, "", terms); err != nil {
			return err
		}
		if err := p.err(); err != nil {
			return err
		}
		r.Dealer, r.Reference, r.Note = &terms.Dealer, terms.Reference, terms.Note
		if terms.Complete != nil {
			r.Complete = *terms.Complete
			err := tx.Model(&lineRow{}).Where("order_id = ? AND complete <> ?", id, r.Complete).
				Updates(map[string]any{"complete": r.Complete, "rev": gorm.Expr("rev + 1")}).Error
			if err == nil && r.Complete {
				err = holdAlike(tx, id)
			}
			if err != nil {
				return err
			}
		}
		if reflect.DeepEqual(before.alone(), r.order(nil)) {
			return nil
		}
		r.Rev++
		return errors.Join(tx.Save(&r).Error, trail(tx, "order", id, "changed", before.alone(), r.order(nil)))
	})
}

// CancelOrder cancels all that is open of an order.
func (b *Books) CancelOrder(ctx context.Context, id string, rev int64) (Order, error) {
	return b.changeOrder(ctx, "cancel order", id, rev, func(tx *gorm.DB, before Order, _ orderRow) error {
		if !before.Open() {
			return conflict("order %q has nothing open to cancel", id)
		}
		for _, l := range before.Lines {
			if l.Open() == 0 {
				continue
			}
			r, err := takeLine(tx, l.ID)
			if err != nil {
				return err
			}
			r.Cancelled += r.open()
			if _, err := saveLine(tx, "cancelled", l, r); err != nil {
				return err
			}
		}
		after, err := takeOrder(tx, id)
		if err != nil {
			return err
		}
		return trail(tx, "order", id, "cancelled", before.alone(), after.order(nil))
	})
}

func (b *Books) changeOrder(
	ctx context.Context, what, id string, rev int64, change func(tx *gorm.DB, before Order, r orderRow) error,
) (Order, error) {
	var after Order
	err := b.write(ctx, func(tx *gorm.DB) error {
		r, err := takeOrder(tx, id)
		if err == nil {
			err = checkRev("order", id, rev, r.Rev)
		}
		if err != nil {
			return err
		}
		before, err := wholeOrder(tx, r)
		if err != nil {
			return err
		}
		if err := change(tx, before, r); err != nil {
			return err
		}
		if r, err = takeOrder(tx, id); err != nil {
			return err
		}
		after, err = wholeOrder(tx, r)
		return err
	})
	return after, doing(err, "%s %q", what, id)
}
