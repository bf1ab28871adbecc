package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// What a mandrel's or roll's history tells beside its moves.
const (
	entered   = "entered"
	corrected = "corrected"
)

// A MandrelMove is one entry of a mandrel's history.
type MandrelMove struct {
	At     time.Time
	Actor  string
	Move   string     // a crib.Move, or entered or corrected
	From   crib.Place // empty where it entered the books
	To     crib.Place
	Load   string    // that it was issued to, or came from
	Back   time.Time // when it was to be back in the crib; zero where nobody said
	Cycles int       // that this added
	Remark string
}

type mandrelMoveRow struct {
	ID      int64 `gorm:"primaryKey"`
	Mandrel string
	At      int64
	Actor   string
	Move    string
	Origin  string
	Place   string
	Load    string
	Back    *int64
	Cycles  int
	Remark  string
}

func (mandrelMoveRow) TableName() string { return "mandrel_moves" }

func (r mandrelMoveRow) record() MandrelMove {
	return MandrelMove{
		At: instant(r.At), Actor: r.Actor, Move: r.Move, From: crib.Place(r.Origin), To: crib.Place(r.Place),
		Load: r.Load, Back: optionalInstant(r.Back), Cycles: r.Cycles, Remark: r.Remark,
	}
}

// MandrelHistory returns what a mandrel went through, the newest first.
func (b *Books) MandrelHistory(ctx context.Context, id string, limit int) ([]MandrelMove, error) {
	var out []MandrelMove
	err := b.read(ctx, func(tx *gorm.DB) error {
		if _, err := mandrelRowOf(tx, id); err != nil {
			return err
		}
		var rows []mandrelMoveRow
		err := tx.Where("mandrel = ?", id).Order("id DESC").Limit(page(limit)).Find(&rows).Error
		for _, r := range rows {
			out = append(out, r.record())
		}
		return err
	})
	return out, doing(err, "mandrel history")
}

// A Seen names a record and the revision that the caller saw, 0 for any.
type Seen struct {
	ID  string
	Rev int64
}

// Impossible are moves that cannot be made; nothing of what was ordered with
// them was done. It is an ErrConflict.
type Impossible struct{ Refusals []*crib.Refusal }

// Error says of each what is possible instead.
func (i *Impossible) Error() string {
	lines := make([]string, len(i.Refusals))
	for n, r := range i.Refusals {
		lines[n] = r.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap says what kind of error it is.
func (i *Impossible) Unwrap() error { return ErrConflict }

// MoveMandrels makes the same move with some mandrels: with all or with none.
// An order without an instant is for now; a return that does not say until
// when it is cleaned is back after its type's turnaround.
func (b *Books) MoveMandrels(ctx context.Context, which []Seen, o crib.Order) ([]Mandrel, error) {
	asked := struct {
		Which []Seen
		Order crib.Order
	}{which, o}
	return once(ctx, b, "move mandrels", asked, func(tx *gorm.DB) ([]Mandrel, error) {
		if o.At.IsZero() {
			o.At = now(tx)
		}
		m := mover{tx: tx, order: o}
		if err := m.load(which); err != nil {
			return nil, err
		}
		return m.move()
	})
}

// A mover makes one order with several mandrels.
type mover struct {
	tx     *gorm.DB
	order  crib.Order
	rows   []*mandrelRow
	limits map[string]crib.Limits
}

// load finds the mandrels, and everything that is wrong with what was asked.
func (m *mover) load(which []Seen) error {
	var found findings
	found.take(m.order.Problems())
	found.text("remark", m.order.Remark, lineLength)
	if m.order.At.After(now(m.tx)) {
		found.say("at", "%s is still to come", clock(m.order.At))
	}
	if len(which) == 0 {
		found.say("ids", "is empty: say which mandrels")
	}
	stale := m.find(which, &found)
	if err := found.err(); err != nil {
		return err
	}
	var err error
	m.limits, err = limitsByType(m.tx)
	return errors.Join(stale, err)
}

func (m *mover) find(which []Seen, found *findings) error {
	taken := map[string]bool{}
	var failed error
	for i, seen := range which {
		path := fmt.Sprintf("ids[%d]", i)
		row, err := mandrelRowOf(m.tx, seen.ID)
		switch {
		case errors.Is(err, ErrNotFound):
			found.say(path, "no mandrel %q", seen.ID)
			continue
		case err != nil:
			return err
		case taken[seen.ID]:
			found.say(path, "%q is named twice", seen.ID)
		case m.order.At.UnixMilli() < row.Moved:
			found.say("at", "%s was last moved at %s, after that", seen.ID, clock(instant(row.Moved)))
		}
		taken[seen.ID] = true
		failed = errors.Join(failed, checkRev("mandrel", seen.ID, seen.Rev, row.Rev))
		m.rows = append(m.rows, row)
	}
	return failed
}

func clock(at time.Time) string { return at.UTC().Format(time.RFC3339) }

// move makes the order with all mandrels, or says of which it cannot.
func (m *mover) move() ([]Mandrel, error) {
	after, err := m.try()
	if err != nil {
		return nil, err
	}
	if m.order.Move == crib.Issue {
		if err := m.checkLoad(); err != nil {
			return nil, err
		}
	}
	out := make([]Mandrel, len(m.rows))
	for i, row := range m.rows {
		if err := m.book(row, after[i]); err != nil {
			return nil, err
		}
		out[i] = row.record(m.limits)
	}
	return out, nil
}

// try returns the mandrels as they would be after the order.
func (m *mover) try() ([]crib.Mandrel, error) {
	back, err := m.backs()
	if err != nil {
		return nil, err
	}
	var impossible Impossible
	after := make([]crib.Mandrel, len(m.rows))
	for i, row := range m.rows {
		order := m.order
		if order.Until.IsZero() {
			order.Until = back[row.Type]
		}
		var refusal *crib.Refusal
		after[i], err = row.mandrel().Do(order, m.limits[row.Type])
		if errors.As(err, &refusal) {
			impossible.Refusals = append(impossible.Refusals, refusal)
		}
	}
	if len(impossible.Refusals) > 0 {
		return nil, &impossible
	}
	return after, nil
}

// book writes one mandrel's move.
func (m *mover) book(row *mandrelRow, after crib.Mandrel) error {
	move := mandrelMoveRow{At: m.order.At.UnixMilli(), Move: string(m.order.Move), Remark: m.order.Remark}
	row.Moved = move.At
	return row.book(m.tx, after, move)
}

// book writes how a mandrel stands after something happened to it.
func (r *mandrelRow) book(tx *gorm.DB, after crib.Mandrel, move mandrelMoveRow) error {
	before, told := r.mandrel(), r.told()
	r.set(after)
	r.Stated, r.Rev = "", r.Rev+1
	move = move.between(tx, before, after)
	return errors.Join(
		tx.Save(r).Error,
		tx.Create(&move).Error,
		trail(tx, kindMandrel, r.ID, move.Move, told, r.told()),
	)
}

// between returns the entry of a mandrel's history that leads from one state to
// the next.
func (r mandrelMoveRow) between(tx *gorm.DB, before, after crib.Mandrel) mandrelMoveRow {
	r.Mandrel, r.Actor = after.ID, actor(tx.Statement.Context)
	r.Origin, r.Place, r.Back = string(before.Place), string(after.Place), optionalMillis(after.Back)
	r.Load = after.Load
	if r.Load == "" {
		r.Load = before.Load
	}
	r.Cycles = after.All - before.All
	return r
}
