package store

import (
	"cmp"
	"context"
	"slices"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A Failure is pieces that were scrapped of a run that a mandrel was in. Which
// of the run's mandrels they were on nobody reports.
type Failure struct {
	Load    string
	Section string
	Stage   string // at which they were scrapped
	At      time.Time
	Reason  string
	Pieces  int
	Of      int // pieces of the run, as planned
}

// MandrelFailures returns what failed of what a mandrel made, the newest first.
func (b *Books) MandrelFailures(ctx context.Context, id string) ([]Failure, error) {
	var out []Failure
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, err := mandrelRowOf(tx, id)
		if err != nil {
			return err
		}
		loads, err := row.workedOn(tx)
		if err != nil {
			return err
		}
		out, err = failures(tx, loads, row.Type)
		return err
	})
	return out, doing(err, "mandrel failures")
}

// workedOn returns the loads that a mandrel is on, or came back from used.
func (r *mandrelRow) workedOn(tx *gorm.DB) ([]string, error) {
	var loads []string
	err := tx.Model(&mandrelMoveRow{}).Where("mandrel = ? AND load <> '' AND cycles > 0", r.ID).Distinct().Pluck("load", &loads).Error
	if r.Load != "" && !slices.Contains(loads, r.Load) {
		loads = append(loads, r.Load)
	}
	return loads, err
}

// failures returns the scrap of the runs of some loads that were rolled on
// mandrels of a type, from tack on: flags spoilt at cut were on none.
func failures(tx *gorm.DB, loads []string, kind string) ([]Failure, error) {
	tasks, err := tasksOn(tx, loads, kind)
	if err != nil {
		return nil, err
	}
	reports, err := reportsWith(tx, func(q *gorm.DB) *gorm.DB { return q.Where("load IN ?", loads).Order("id") })
	if err != nil {
		return nil, err
	}
	planned := map[runOf]int{}
	for _, t := range tasks {
		if t.stage() == shop.Tack {
			planned[runOf{t.Load, t.Section}] += t.Pieces
		}
	}
	var out []Failure
	for of, r := range replay(reports).tasks {
		t := tasks[of.task]
		for _, scrap := range r.Scrap {
			if t != nil {
				out = append(out, Failure{t.Load, t.Section, t.Stage, r.At, scrap.Reason, scrap.Pieces, planned[runOf{t.Load, t.Section}]})
			}
		}
	}
	slices.SortFunc(out, func(a, b Failure) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.Load, b.Load), cmp.Compare(a.Section, b.Section), cmp.Compare(a.Stage, b.Stage),
			cmp.Compare(a.Reason, b.Reason))
	})
	return out, nil
}

// A runOf names the pieces of one section in one load.
type runOf struct{ load, section string }

// tasksOn returns, by id, the tasks of some loads that work on mandrels of a
// type.
func tasksOn(tx *gorm.DB, loads []string, kind string) (map[int64]*releasedTaskRow, error) {
	work, err := releasedWorkOf(tx, func(q *gorm.DB) *gorm.DB { return q.Where("id IN ?", loads) })
	if err != nil {
		return nil, err
	}
	s, err := catalog(tx)
	if err != nil {
		return nil, err
	}
	out := map[int64]*releasedTaskRow{}
	for i := range work.tasks {
		t := &work.tasks[i]
		if _, section := sectionOf(s, t.Section); section != nil && section.Mandrel == kind && t.stage() >= shop.Tack {
			out[t.ID] = t
		}
	}
	return out, nil
}
