package store

import (
	"context"
	"errors"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A Hold keeps a line back: as long as it lasts, the line is in no shop file, so
// that no plan works on it, and nothing is sent on it. What it asks for stays
// asked for. Lines that ship complete are held together, or none of them.
type Hold struct {
	Why   string     `json:"why"`
	Until *shop.Date `json:"until"` // the first day on which it is planned again; nil: until somebody lifts it
}

// lasts reports whether a hold still keeps a line back on a day.
func (h *Hold) lasts(on shop.Date) bool { return h != nil && (h.Until == nil || on < *h.Until) }

// Held reports whether a line is held back on a day. One with nothing open is
// not, whatever was said of it.
func (l Line) Held(on shop.Date) bool { return l.Open() > 0 && l.Hold.lasts(on) }

// hold returns what holds a row back, or did until its day came; nil: nothing.
func (r lineRow) hold() *Hold {
	if r.Held == nil {
		return nil
	}
	h := &Hold{Why: *r.Held}
	if r.HeldUntil != nil {
		until := dateOf(*r.HeldUntil)
		h.Until = &until
	}
	return h
}

// setHold has a row held back, or with nil no longer.
func (r *lineRow) setHold(h *Hold) {
	r.Held, r.HeldUntil = nil, nil
	if h == nil {
		return
	}
	r.Held = &h.Why
	if h.Until != nil {
		until := h.Until.String()
		r.HeldUntil = &until
	}
}

// HoldLine keeps a line back, with all others that ship complete with it. On one
// that is held already it changes why, and until when.
func (b *Books) HoldLine(ctx context.Context, id string, hold Hold, rev int64) (Line, error) {
	return b.changeLine(ctx, "held", id, rev, func(tx *gorm.DB, r *lineRow) error {
		today, err := today(tx)
		if err != nil {
			return err
		}
		var p findings
		if p.hold(hold, today); p.err() != nil {
			return p.err()
		}
		if r.open() == 0 {
			return conflict("line %q has nothing open to hold back", id)
		}
		return holdTogether(tx, "held", r, &hold)
	})
}

// hold judges a hold that begins today.
func (p *findings) hold(hold Hold, today shop.Date) {
	p.needed("why", hold.Why)
	p.text("why", hold.Why, lineLength)
	if hold.Until != nil && *hold.Until <= today {
		p.say("until", "is %s, but must be after today, %s", *hold.Until, today)
	}
}

// LiftHold lets a line be planned and sent again, with all others that ship
// complete with it.
func (b *Books) LiftHold(ctx context.Context, id string, rev int64) (Line, error) {
	return b.changeLine(ctx, "lifted", id, rev, func(tx *gorm.DB, r *lineRow) error {
		if r.Held == nil {
			return conflict("line %q is not held back", id)
		}
		return holdTogether(tx, "lifted", r, nil)
	})
}

// holdTogether has a row, which its caller saves, and those that ship complete
// with it held back alike.
func holdTogether(tx *gorm.DB, done string, r *lineRow, hold *Hold) error {
	r.setHold(hold)
	if r.OrderID == nil || !r.Complete {
		return nil
	}
	others, err := shipTogether(tx, *r.OrderID)
	if err != nil {
		return err
	}
	for _, other := range others {
		if other.ID == r.ID {
			continue
		}
		before := other.line()
		other.setHold(hold)
		if _, err := saveLine(tx, done, before, other); err != nil {
			return err
		}
	}
	return nil
}

// shipTogether are the open lines of an order that ship complete.
func shipTogether(tx *gorm.DB, order string) (rows []lineRow, err error) {
	return rows, withDealers(tx).Where("order_id = ? AND lines.complete", order).Where(openLine).Order("lines.seq").Find(&rows).Error
}

// holdOf is what holds back the lines of an order that ship complete, for one
// that is to join them; nil: nothing.
func holdOf(tx *gorm.DB, order string) (*Hold, error) {
	rows, err := shipTogether(tx, order)
	for _, r := range rows {
		if h := r.hold(); h != nil {
			return h, nil
		}
	}
	return nil, err
}

// holdAlike has the lines of an order that ships complete from now on held back
// all, where one of them is.
func holdAlike(tx *gorm.DB, order string) error {
	hold, err := holdOf(tx, order)
	if err != nil || hold == nil {
		return err
	}
	rows, err := shipTogether(tx, order)
	if err != nil {
		return err
	}
	before := rows[0].line()
	if err := holdTogether(tx, "held", &rows[0], hold); err != nil {
		return err
	}
	_, err = saveLine(tx, "held", before, rows[0])
	return err
}

// heldBack holds for lines that are held back today.
func heldBack(tx *gorm.DB) (where string, today string, err error) {
	day, err := todayIn(tx)
	return "lines.held IS NOT NULL AND (lines.held_until IS NULL OR lines.held_until > ?)", day, err
}

// todayIn is the date in the shop at a transaction's moment; empty where the
// books are.
func todayIn(tx *gorm.DB) (string, error) {
	day, err := today(tx)
	if errors.Is(err, errEmpty) {
		return "", nil
	}
	return day.String(), err
}

// unheld refuses to take away a product that a line asks for which is held back:
// no shop file shows such a line.
func unheld(tx *gorm.DB, product string) error {
	var rows []lineRow
	err := tx.Where("product = ? AND held IS NOT NULL", product).Where(openLine).Order("seq").Limit(1).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return err
	}
	return conflict("line %q asks for product %q and is held back: cancel it first", rows[0].ID, product)
}
