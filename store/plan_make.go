package store

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"

	"gorm.io/gorm"
)

// kindPlan is what the trail calls a plan.
const kindPlan = "plan"

// BeginPlan enters a plan that is being made, and returns its id.
func (b *Books) BeginPlan(ctx context.Context, why string) (int64, error) {
	row := planRow{Why: why, State: PlanRunning, Actor: actor(ctx), Figures: "{}"}
	err := b.write(ctx, func(tx *gorm.DB) error {
		row.AskedAt = millis(tx)
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
		return trail(tx, kindPlan, planRef(row.ID), "ask for", nil, planFact{State: PlanRunning, Why: why})
	})
	return row.ID, doing(err, "begin plan")
}

// planFact is what the trail tells of a plan.
type planFact struct {
	State   string `json:"state"`
	Why     string `json:"why,omitempty"`
	Failure string `json:"failure,omitempty"`
}

func planRef(id int64) string { return strconv.FormatInt(id, 10) }

// KeepPlan keeps a plan that was being made. It is a proposal, and takes the place
// of those before it; what they raised and it does not is over. A quote is kept
// aside, and changes nothing else.
func (b *Books) KeepPlan(ctx context.Context, id int64, f Figures, files PlanFiles, raised []Raised) error {
	pack, err := packed(id, files)
	if err != nil {
		return doing(err, "keep plan %d", id)
	}
	figures, err := json.Marshal(f)
	if err != nil {
		return doing(err, "keep plan %d", id)
	}
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := running(tx, id)
		if err != nil {
			return err
		}
		quote := row.Why == PlanByQuote
		if err := keepPlan(tx, row, string(figures)); err != nil {
			return err
		}
		if err := tx.Create(pack).Error; err != nil || quote {
			return err
		}
		return settle(tx, id, raised)
	}), "keep plan %d", id)
}

// keepPlan ends a plan that was made, and gives it the place that is its due.
func keepPlan(tx *gorm.DB, row *planRow, figures string) error {
	state := PlanKept
	if row.Why != PlanByQuote {
		state = PlanProposal
		if err := tx.Model(&planRow{}).Where("state = ?", PlanProposal).Update("state", PlanKept).Error; err != nil {
			return err
		}
	}
	change := map[string]any{"state": state, "ended_at": millis(tx), "figures": figures}
	if err := tx.Model(row).Updates(change).Error; err != nil {
		return err
	}
	return trail(tx, kindPlan, planRef(row.ID), "make", planFact{State: PlanRunning}, planFact{State: state})
}

// FailPlan says why a plan that was being made was not.
func (b *Books) FailPlan(ctx context.Context, id int64, why string) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := running(tx, id)
		if err != nil {
			return err
		}
		return failPlan(tx, row, why)
	}), "fail plan %d", id)
}

// EndPlans says of the plans that a server before this one was making that they were
// not made.
func (b *Books) EndPlans(ctx context.Context) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		var rows []planRow
		if err := tx.Where("state = ?", PlanRunning).Order("id").Find(&rows).Error; err != nil {
			return err
		}
		for i := range rows {
			if err := failPlan(tx, &rows[i], "the server ended while the plan was being made"); err != nil {
				return err
			}
		}
		return nil
	}), "end plans")
}

func failPlan(tx *gorm.DB, row *planRow, why string) error {
	change := map[string]any{"state": PlanFailed, "ended_at": millis(tx), "failure": why}
	if err := tx.Model(row).Updates(change).Error; err != nil {
		return err
	}
	if err := trail(tx, kindPlan, planRef(row.ID), "fail", planFact{State: PlanRunning}, planFact{State: PlanFailed, Failure: why}); err != nil {
		return err
	}
	if row.Why == PlanByQuote {
		return nil
	}
	return raise(tx, &row.ID, Raised{NoticeFailed, "plan", fmt.Sprintf("Plan %d could not be made: %s.", row.ID, why)})
}

// running returns a plan that is being made.
func running(tx *gorm.DB, id int64) (*planRow, error) {
	row, err := planRowOf(tx, id)
	if err == nil && row.State != PlanRunning {
		err = conflict("plan %d is not being made: it is %s", id, row.State)
	}
	return row, err
}

func planRowOf(tx *gorm.DB, id int64) (*planRow, error) {
	var row planRow
	err := tx.Where("id = ?", id).Take(&row).Error
	if missing(err) {
		return nil, notFound("plan", planRef(id))
	}
	return &row, err
}

// PutInForce makes a plan the one that the shop works by, in the place of the one
// before it.
func (b *Books) PutInForce(ctx context.Context, id int64) (Plan, error) {
	var p Plan
	err := b.write(ctx, func(tx *gorm.DB) error {
		if err := putInForce(tx, id); err != nil {
			return err
		}
		row, err := planRowOf(tx, id)
		if err != nil {
			return err
		}
		p, err = row.plan()
		return err
	})
	return p, doing(err, "put plan %d in force", id)
}

// putInForce is PutInForce within a transaction: a release does so, too.
func putInForce(tx *gorm.DB, id int64) error {
	row, err := planRowOf(tx, id)
	switch {
	case err != nil:
		return err
	case row.State == PlanInForce:
		return nil
	case row.Why == PlanByQuote:
		return conflict("plan %d is a quote, which nobody works by", id)
	case row.State != PlanProposal && row.State != PlanKept:
		return conflict("plan %d was not made: it is %s", id, row.State)
	}
	if err := tx.Model(&planRow{}).Where("state = ?", PlanInForce).Update("state", PlanKept).Error; err != nil {
		return err
	}
	was := row.State
	if err := tx.Model(row).Update("state", PlanInForce).Error; err != nil {
		return err
	}
	return trail(tx, kindPlan, planRef(id), "put in force", planFact{State: was}, planFact{State: PlanInForce})
}
