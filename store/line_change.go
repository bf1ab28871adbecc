package store

import (
	"context"
	"reflect"

	"gorm.io/gorm"
)

// ChangeLine gives a line other terms.
func (b *Books) ChangeLine(ctx context.Context, id string, terms LineTerms, rev int64) (Line, error) {
	return b.changeLine(ctx, "changed", id, rev, func(tx *gorm.DB, r *lineRow) error {
		known, err := productsOf(tx)
		if err != nil {
			return err
		}
		if err := judgeChange(*r, terms, known); err != nil {
			return err
		}
		r.set(terms)
		return nil
	})
}

// judgeChange holds a change against what was already shipped.
func judgeChange(r lineRow, terms LineTerms, known productSet) error {
	var p findings
	if terms.Product == r.Product {
		known = productSet{r.Product: true} // a closed line may name what is made no more
	}
	p.line("", terms, known)
	if terms.Product != r.Product && r.Shipped > 0 {
		p.say("product", "cannot change: %d of %q have shipped", r.Shipped, r.Product)
	}
	if gone := r.Shipped + r.Cancelled; terms.Quantity >= 1 && terms.Quantity < gone {
		p.say("quantity", "is %d, but %d have shipped or were cancelled", terms.Quantity, gone)
	}
	return p.err()
}

// CancelLine cancels what of a line is still open.
func (b *Books) CancelLine(ctx context.Context, id string, rev int64) (Line, error) {
	return b.changeLine(ctx, "cancelled", id, rev, func(_ *gorm.DB, r *lineRow) error {
		if r.open() == 0 {
			return conflict("line %q has nothing open to cancel", id)
		}
		r.Cancelled += r.open()
		return nil
	})
}

// changeLine changes a line that may be changed by hand, and its order's
// revision with it. done is what the trail says.
func (b *Books) changeLine(ctx context.Context, done, id string, rev int64, change func(tx *gorm.DB, r *lineRow) error) (Line, error) {
	var after Line
	err := b.write(ctx, func(tx *gorm.DB) error {
		r, err := takeLine(tx, id)
		if err != nil {
			return err
		}
		if err := checkRev("line", id, rev, r.Rev); err != nil {
			return err
		}
		if r.Level {
			return conflict("line %q follows from the stock level of %q: change that", id, r.Product)
		}
		before := r.line()
		if err := change(tx, &r); err != nil {
			return err
		}
		after, err = saveLine(tx, done, before, r)
		return err
	})
	return after, doing(err, "line %q", id)
}

// saveLine writes a line that has changed; done is what the trail says.
func saveLine(tx *gorm.DB, done string, before Line, r lineRow) (Line, error) {
	if reflect.DeepEqual(before, r.line()) {
		return before, nil
	}
	r.Rev++
	if err := tx.Save(&r).Error; err != nil {
		return before, err
	}
	if err := trail(tx, "line", r.ID, done, before, r.line()); err != nil {
		return before, err
	}
	if r.OrderID != nil {
		if err := touch(tx, *r.OrderID); err != nil {
			return before, err
		}
	}
	if r.Level {
		return r.line(), nil // it follows; nothing follows it
	}
	return r.line(), restock(tx, unique([]string{before.Product, r.Product})...)
}
