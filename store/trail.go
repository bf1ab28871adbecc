package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// An Entry is one change on the trail: who changed what, when, from what to
// what. From is null for what is new, To for what is gone.
type Entry struct {
	ID      int64 // grows with every change
	At      time.Time
	Actor   string
	Request string // empty where it came from no request
	Kind    string // of the record, as order or oven
	Of      string // the record's id
	What    string // was done
	From    json.RawMessage
	To      json.RawMessage
}

type trailRow struct {
	ID      int64 `gorm:"primaryKey"`
	At      int64
	Actor   string
	Request string
	Kind    string
	Ref     string
	What    string
	Before  string
	After   string
}

func (trailRow) TableName() string { return "trail" }

func (r trailRow) entry() Entry {
	return Entry{
		ID: r.ID, At: instant(r.At), Actor: r.Actor, Request: r.Request, Kind: r.Kind, Of: r.Ref, What: r.What,
		From: json.RawMessage(r.Before), To: json.RawMessage(r.After),
	}
}

// trail writes down a change, in its own transaction, with its actor and
// moment. from and to are written as JSON; nil says that there was or is none.
func trail(tx *gorm.DB, kind, id, what string, from, to any) error {
	before, err := json.Marshal(from)
	if err != nil {
		return fmt.Errorf("trail of %s %q: %w", kind, id, err)
	}
	after, err := json.Marshal(to)
	if err != nil {
		return fmt.Errorf("trail of %s %q: %w", kind, id, err)
	}
	ctx := tx.Statement.Context
	return tx.Create(&trailRow{
		At: millis(tx), Actor: actor(ctx), Request: request(ctx), Kind: kind, Ref: id, What: what,
		Before: string(before), After: string(after),
	}).Error
}

// A TrailFilter asks for some entries. What is empty or zero asks for any.
type TrailFilter struct {
	Kind, Of, Actor string
	Since, Until    time.Time // from Since on, before Until
	Before          int64     // entries with a smaller ID: the next page
	Limit           int       // 0 is MaxPage
}

// MaxPage is the most rows that a list returns at once.
const MaxPage = 500

// page returns how many rows a caller gets who asks for so many.
func page(limit int) int {
	if limit <= 0 || limit > MaxPage {
		return MaxPage
	}
	return limit
}

// Trail returns entries, the newest first.
func (b *Books) Trail(ctx context.Context, f TrailFilter) ([]Entry, error) {
	var rows []trailRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		return f.apply(tx).Order("id DESC").Limit(page(f.Limit)).Find(&rows).Error
	})
	return entries(rows), doing(err, "trail")
}

func (f TrailFilter) apply(tx *gorm.DB) *gorm.DB {
	if f.Kind != "" {
		tx = tx.Where("kind = ?", f.Kind)
	}
	if f.Of != "" {
		tx = tx.Where("ref = ?", f.Of)
	}
	if f.Actor != "" {
		tx = tx.Where("actor = ?", f.Actor)
	}
	if !f.Since.IsZero() {
		tx = tx.Where("at >= ?", f.Since.UnixMilli())
	}
	if !f.Until.IsZero() {
		tx = tx.Where("at < ?", f.Until.UnixMilli())
	}
	if f.Before > 0 {
		tx = tx.Where("id < ?", f.Before)
	}
	return tx
}

// Events returns entries with an ID above after, the oldest first.
func (b *Books) Events(ctx context.Context, after int64, limit int) ([]Entry, error) {
	var rows []trailRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		return tx.Where("id > ?", after).Order("id").Limit(page(limit)).Find(&rows).Error
	})
	return entries(rows), doing(err, "events")
}

// LastEvent returns the newest entry's ID, 0 where there is none.
func (b *Books) LastEvent(ctx context.Context) (int64, error) {
	var last int64
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		last, err = lastEntry(tx)
		return err
	})
	return last, doing(err, "last event")
}

func lastEntry(tx *gorm.DB) (last int64, err error) {
	return last, tx.Model(&trailRow{}).Select("coalesce(max(id), 0)").Scan(&last).Error
}

func entries(rows []trailRow) []Entry {
	out := make([]Entry, len(rows))
	for i, r := range rows {
		out[i] = r.entry()
	}
	return out
}
