package store

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Plan returns a plan by its id.
func (b *Books) Plan(ctx context.Context, id int64) (Plan, error) {
	var p Plan
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, err := planRowOf(tx, id)
		if err != nil {
			return err
		}
		p, err = row.plan()
		return err
	})
	return p, doing(err, "plan %d", id)
}

// Plans returns plans, the newest first.
func (b *Books) Plans(ctx context.Context, f PlanFilter) ([]Plan, error) {
	var list []Plan
	err := b.read(ctx, func(tx *gorm.DB) error {
		var rows []planRow
		if err := f.apply(tx).Order("id DESC").Limit(page(f.Limit)).Find(&rows).Error; err != nil {
			return err
		}
		for i := range rows {
			p, err := rows[i].plan()
			if err != nil {
				return err
			}
			list = append(list, p)
		}
		return nil
	})
	return list, doing(err, "plans")
}

func (f PlanFilter) apply(tx *gorm.DB) *gorm.DB {
	if f.Why != "" {
		tx = tx.Where("why = ?", f.Why)
	}
	if f.State != "" {
		tx = tx.Where("state = ?", f.State)
	}
	if f.After > 0 {
		tx = tx.Where("id < ?", f.After)
	}
	return tx
}

// LatestPlan returns the plan of the books that was made last, whether the shop works
// by it or not. Quotes are none of the books.
func (b *Books) LatestPlan(ctx context.Context) (Plan, error) {
	return b.onePlan(ctx, "latest plan", "no plan was made yet", func(tx *gorm.DB) *gorm.DB {
		return tx.Where("state IN ? AND why <> ?", []string{PlanProposal, PlanInForce, PlanKept}, PlanByQuote)
	})
}

// PlanInForce returns the plan that the shop works by.
func (b *Books) PlanInForce(ctx context.Context) (Plan, error) {
	return b.onePlan(ctx, "plan in force", "no plan is in force yet", func(tx *gorm.DB) *gorm.DB {
		return tx.Where("state = ?", PlanInForce)
	})
}

// onePlan returns the newest plan of some.
func (b *Books) onePlan(ctx context.Context, what, none string, pick func(*gorm.DB) *gorm.DB) (Plan, error) {
	var p Plan
	err := b.read(ctx, func(tx *gorm.DB) error {
		var row planRow
		err := pick(tx).Order("id DESC").Take(&row).Error
		if missing(err) {
			return &refusal{ErrNotFound, none}
		}
		if err == nil {
			p, err = row.plan()
		}
		return err
	})
	return p, doing(err, "%s", what)
}

// PlanFiles returns the files of a plan that was made.
func (b *Books) PlanFiles(ctx context.Context, id int64) (PlanFiles, error) {
	var f PlanFiles
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		f, err = planFiles(tx, id)
		return err
	})
	return f, doing(err, "files of plan %d", id)
}

// planFiles is PlanFiles within a transaction.
func planFiles(tx *gorm.DB, id int64) (PlanFiles, error) {
	row, err := planRowOf(tx, id)
	if err != nil {
		return PlanFiles{}, err
	}
	var pack planFilesRow
	err = tx.Where("plan = ?", id).Take(&pack).Error
	switch {
	case missing(err):
		return PlanFiles{}, &refusal{ErrNotFound, fmt.Sprintf("plan %d was not made: it is %s", id, row.State)}
	case err != nil:
		return PlanFiles{}, err
	}
	return pack.unpacked()
}
