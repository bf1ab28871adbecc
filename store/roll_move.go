package store

import (
	"context"
	"errors"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A RollMove is one entry of a roll's history.
type RollMove struct {
	At     time.Time
	Actor  string
	Move   string         // a crib.RollMove, or entered or corrected
	To     crib.RollPlace // where it was after it
	M2     float64        // drawn, that came or was given back, or that a correction added
	Remark string
}

type rollMoveRow struct {
	ID     int64 `gorm:"primaryKey"`
	Roll   string
	At     int64
	Actor  string
	Move   string
	Place  string
	M2     float64 `gorm:"column:m2"`
	Used   int64
	Remark string
}

func (rollMoveRow) TableName() string { return "roll_moves" }

// RollHistory returns what happened to a roll, the newest first.
func (b *Books) RollHistory(ctx context.Context, id string, limit int) ([]RollMove, error) {
	var out []RollMove
	err := b.read(ctx, func(tx *gorm.DB) error {
		if _, err := rollRowOf(tx, id); err != nil {
			return err
		}
		var rows []rollMoveRow
		err := tx.Where("roll = ?", id).Order("id DESC").Limit(page(limit)).Find(&rows).Error
		for _, r := range rows {
			out = append(out, RollMove{
				At: instant(r.At), Actor: r.Actor, Move: r.Move, To: crib.RollPlace(r.Place), M2: r.M2, Remark: r.Remark,
			})
		}
		return err
	})
	return out, doing(err, "roll history")
}

// of returns the entry of a roll's history after which it is as the row says.
func (m rollMoveRow) of(tx *gorm.DB, r *rollRow) rollMoveRow {
	m.Roll, m.Actor = r.ID, actor(tx.Statement.Context)
	m.Place = string(r.roll().Place(instant(m.At)))
	return m
}

// MoveRoll makes a move with a roll. An order without an instant is for now.
func (b *Books) MoveRoll(ctx context.Context, which Seen, o crib.RollOrder) (Roll, error) {
	asked := struct {
		Which Seen
		Order crib.RollOrder
	}{which, o}
	return once(ctx, b, "move roll", asked, func(tx *gorm.DB) (Roll, error) {
		row, err := rollRowOf(tx, which.ID)
		if err != nil {
			return Roll{}, err
		}
		if o.At.IsZero() {
			o.At = now(tx)
		}
		if err := row.checkOrder(tx, o); err != nil {
			return Roll{}, err
		}
		if err := checkRev(kindRoll, which.ID, which.Rev, row.Rev); err != nil {
			return Roll{}, err
		}
		return row.move(tx, o)
	})
}

// checkOrder reports what is wrong with an order and its time.
func (r *rollRow) checkOrder(tx *gorm.DB, o crib.RollOrder) error {
	var found findings
	found.take(o.Problems())
	found.text("remark", o.Remark, lineLength)
	if o.At.After(now(tx)) {
		found.say("at", "%s is still to come", clock(o.At))
	}
	if o.At.UnixMilli() < r.Moved {
		found.say("at", "%s was last moved at %s, after that", r.ID, clock(instant(r.Moved)))
	}
	return found.err()
}

func (r *rollRow) move(tx *gorm.DB, o crib.RollOrder) (Roll, error) {
	after, err := r.roll().Do(o)
	var refusal *crib.Refusal
	if errors.As(err, &refusal) {
		return Roll{}, &Impossible{[]*crib.Refusal{refusal}}
	}
	if err != nil {
		return Roll{}, err
	}
	move := rollMoveRow{At: o.At.UnixMilli(), Move: string(o.Move), M2: o.M2, Remark: o.Remark}
	if err := r.book(tx, after, move); err != nil {
		return Roll{}, err
	}
	return r.record(now(tx)), nil
}

// book writes how a roll stands after something happened to it.
func (r *rollRow) book(tx *gorm.DB, after crib.Roll, move rollMoveRow) error {
	told := r.told()
	r.set(after)
	r.Stated, r.Moved, r.Rev = "", max(r.Moved, move.At), r.Rev+1
	move = move.of(tx, r)
	return errors.Join(
		tx.Save(r).Error,
		tx.Create(&move).Error,
		trail(tx, kindRoll, r.ID, move.Move, told, r.told()),
	)
}
