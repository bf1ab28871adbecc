package store

import (
	"context"
	"encoding/json"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// usualTick is when the tick is due unless somebody says otherwise.
const usualTick = shop.Clock(15 * 60)

// mostReleaseDays is how far ahead a tick may release.
const mostReleaseDays = 30

// A TickChange says what is to be otherwise; what is nil stays.
type TickChange struct {
	On          *bool
	At          *shop.Clock
	ReleaseDays *int
}

type tickSettingsRow struct {
	ID          int64 `gorm:"primaryKey"`
	IsOn        bool
	At          string
	ReleaseDays int
	Since       int64
	Rev         int64
}

func (tickSettingsRow) TableName() string { return "tick_settings" }

func (r *tickSettingsRow) settings() (TickSettings, error) {
	s := TickSettings{On: r.IsOn, ReleaseDays: r.ReleaseDays, Since: instant(r.Since), Begun: r.ID != 0, Rev: r.Rev}
	return s, doing(s.At.UnmarshalText([]byte(r.At)), "time of the tick")
}

// TickSettings returns when the tick is due. As long as nobody has begun to tick,
// that is the usual time from now on.
func (b *Books) TickSettings(ctx context.Context) (TickSettings, error) {
	var s TickSettings
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, err := tickSettings(tx)
		if err == nil {
			s, err = row.settings()
		}
		return err
	})
	return s, doing(err, "tick settings")
}

// BeginTicks has ticks be due from now on, unless they are already.
func (b *Books) BeginTicks(ctx context.Context) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := tickSettings(tx)
		if err != nil || row.ID != 0 {
			return err
		}
		row.ID = 1
		return tx.Create(row).Error
	}), "begin ticks")
}

// ChangeTick changes when the tick is due. One that is turned on again does not make
// up for what was due while it was off.
func (b *Books) ChangeTick(ctx context.Context, rev int64, c TickChange) (TickSettings, error) {
	var s TickSettings
	err := b.write(ctx, func(tx *gorm.DB) error {
		row, err := tickSettings(tx)
		if err != nil {
			return err
		}
		if err := checkRev("tick", "settings", rev, row.Rev); err != nil {
			return err
		}
		if err := c.check(); err != nil {
			return err
		}
		was := row.fact()
		row.change(tx, c)
		if err := tx.Save(row).Error; err != nil {
			return err
		}
		if err := trail(tx, "tick", "settings", "change", was, row.fact()); err != nil {
			return err
		}
		s, err = row.settings()
		return err
	})
	return s, doing(err, "change tick")
}

func (c TickChange) check() error {
	var problems strict.Problems
	if c.At != nil && *c.At >= 24*60 {
		problems = append(problems, strict.Problem{Path: "at", Message: fmt.Sprintf("is %s, but must be from 00:00 to 23:59", *c.At)})
	}
	if d := c.ReleaseDays; d != nil && (*d < 0 || *d > mostReleaseDays) {
		problems = append(problems, strict.Problem{Path: "release_days", Message: fmt.Sprintf("is %d, but must be from 0 to %d", *d, mostReleaseDays)})
	}
	if len(problems) > 0 {
		return problems
	}
	return nil
}

// change makes a change, in a row that may be new.
func (r *tickSettingsRow) change(tx *gorm.DB, c TickChange) {
	if c.On != nil && *c.On && !r.IsOn {
		r.Since = millis(tx)
	}
	if c.On != nil {
		r.IsOn = *c.On
	}
	if c.At != nil {
		r.At = c.At.String()
	}
	if c.ReleaseDays != nil {
		r.ReleaseDays = *c.ReleaseDays
	}
	r.ID, r.Rev = 1, r.Rev+1
}

// fact is what the trail tells of the settings.
func (r *tickSettingsRow) fact() json.RawMessage {
	return json.RawMessage(fmt.Sprintf(`{"on":%t,"at":%q,"release_days":%d}`, r.IsOn, r.At, r.ReleaseDays))
}

// tickSettings returns the row, or a new one, whose ID is 0.
func tickSettings(tx *gorm.DB) (*tickSettingsRow, error) {
	var row tickSettingsRow
	err := tx.Take(&row).Error
	if missing(err) {
		return &tickSettingsRow{IsOn: true, At: usualTick.String(), Since: millis(tx), Rev: 1}, nil
	}
	return &row, err
}
