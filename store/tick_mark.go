package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// mostTries is how often a tick is begun that never ends: at last it might be what
// ends the server.
const mostTries = 3

type tickRow struct {
	Due     int64 `gorm:"primaryKey;autoIncrement:false"`
	State   string
	BegunAt int64
	Tries   int
	EndedAt *int64
	Plan    *int64
	Failure string
}

func (tickRow) TableName() string { return "ticks" }

func (r *tickRow) tick() Tick {
	t := Tick{Due: instant(r.Due), State: r.State, BegunAt: instant(r.BegunAt), EndedAt: optional(r.EndedAt), Failure: r.Failure}
	if r.Plan != nil {
		t.Plan = *r.Plan
	}
	return t
}

// Ticks returns what became of the last ticks, the newest first.
func (b *Books) Ticks(ctx context.Context, limit int) ([]Tick, error) {
	var rows []tickRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		return tx.Order("due DESC").Limit(page(limit)).Find(&rows).Error
	})
	list := make([]Tick, len(rows))
	for i := range rows {
		list[i] = rows[i].tick()
	}
	return list, doing(err, "ticks")
}

// BeginTick marks a due time as begun, and returns false where it, or a later one,
// was marked before. One that was begun and never ended, because the server did, is
// begun anew, though not for ever.
func (b *Books) BeginTick(ctx context.Context, due time.Time) (begun bool, err error) {
	err = b.write(ctx, func(tx *gorm.DB) error {
		var later int64
		if err := tx.Model(&tickRow{}).Where("due > ?", due.UnixMilli()).Count(&later).Error; err != nil || later > 0 {
			return err
		}
		var row tickRow
		err := tx.Where("due = ?", due.UnixMilli()).Take(&row).Error
		switch {
		case missing(err):
			row = tickRow{Due: due.UnixMilli(), State: TickRunning}
		case err != nil || row.State != TickRunning || row.Tries >= mostTries:
			return err
		}
		row.BegunAt, row.Tries, begun = millis(tx), row.Tries+1, true
		if err := tx.Save(&row).Error; err != nil {
			return err
		}
		return trail(tx, "tick", tickRef(due), "begin", nil, tickFact{State: TickRunning})
	})
	return begun, doing(err, "begin tick")
}

// EndTick says what came of a tick: a plan, a failure, or both where the plan is there
// and could not be released.
func (b *Books) EndTick(ctx context.Context, due time.Time, plan int64, failure string) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		var row tickRow
		if err := tx.Where("due = ?", due.UnixMilli()).Take(&row).Error; err != nil {
			if missing(err) {
				return notFound("tick", tickRef(due))
			}
			return err
		}
		at := millis(tx)
		row.State, row.EndedAt, row.Failure = TickDone, &at, failure
		if plan != 0 {
			row.Plan = &plan
		}
		if failure != "" {
			row.State = TickFailed
			if err := tellFailure(tx, &row); err != nil {
				return err
			}
		}
		if err := tx.Save(&row).Error; err != nil {
			return err
		}
		return trail(tx, "tick", tickRef(due), "end", tickFact{State: TickRunning}, tickFact{row.State, plan, failure})
	}), "end tick")
}

// tellFailure raises a notice of a tick that failed, unless its plan has told of it.
func tellFailure(tx *gorm.DB, row *tickRow) error {
	if row.Plan != nil {
		plan, err := planRowOf(tx, *row.Plan)
		if err != nil || plan.State == PlanFailed {
			return err
		}
	}
	text := fmt.Sprintf("The tick of %s failed: %s.", tickRef(instant(row.Due)), row.Failure)
	return raise(tx, row.Plan, Raised{NoticeFailed, "tick", text})
}

// tickFact is what the trail tells of a tick.
type tickFact struct {
	State   string `json:"state"`
	Plan    int64  `json:"plan,omitempty"`
	Failure string `json:"failure,omitempty"`
}

func tickRef(due time.Time) string { return due.UTC().Format(time.RFC3339) }
