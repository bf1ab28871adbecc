package store

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
)

const kindReport = "report"

// A TaskReport says that a task was begun, or is done.
type TaskReport struct {
	Task int64
	At   time.Time // zero is now
	// Of a task that is done: what became of its pieces.
	Good  int
	Scrap []Scrap
	Dead  int // at pull: pieces scrapped before, on their mandrels
}

// ReportBegun says that a task was begun. A cut task draws its prepreg then.
func (b *Books) ReportBegun(ctx context.Context, task int64, at time.Time) (Report, error) {
	t := TaskReport{Task: task, At: at}
	return once(ctx, b, "report begun", t, func(tx *gorm.DB) (Report, error) {
		return reportTask(tx, reportBegun, t)
	})
}

// ReportDone says that a task is done. Its good pieces go on to the next stage;
// what is scrapped is missing from there on. Good pieces that are trimmed are
// loose until each section of their product has one: then they are stock.
func (b *Books) ReportDone(ctx context.Context, t TaskReport) (Report, error) {
	return once(ctx, b, "report done", t, func(tx *gorm.DB) (Report, error) {
		return reportTask(tx, reportDone, t)
	})
}

func reportTask(tx *gorm.DB, what string, t TaskReport) (Report, error) {
	at, err := reportedAt(tx, t.At)
	if err != nil {
		return Report{}, err
	}
	var row releasedTaskRow
	if err := tx.Where("id = ?", t.Task).Take(&row).Error; err != nil {
		if missing(err) {
			err = notFound("task", strconv.FormatInt(t.Task, 10))
		}
		return Report{}, err
	}
	d, err := openLoad(tx, row.Load)
	if err != nil {
		return Report{}, err
	}
	i := d.index(t.Task)
	if what == reportBegun {
		err = d.begin(i, at)
	} else if err = checkScrap(t.Scrap); err == nil {
		err = d.end(i, at, t)
	}
	if err != nil {
		return Report{}, err
	}
	return d.enter(&reportRow{What: what, Load: row.Load, Task: &t.Task, At: at, Good: t.Good, Dead: t.Dead}, t.Scrap)
}

// ReportIn says that a load went into its oven.
func (b *Books) ReportIn(ctx context.Context, load string, at time.Time) (Report, error) {
	return b.reportLoad(ctx, reportIn, load, at)
}

// ReportOut says that a load is out of its oven.
func (b *Books) ReportOut(ctx context.Context, load string, at time.Time) (Report, error) {
	return b.reportLoad(ctx, reportOut, load, at)
}

func (b *Books) reportLoad(ctx context.Context, what, load string, at time.Time) (Report, error) {
	asked := struct {
		Load string
		At   time.Time
	}{load, at}
	return once(ctx, b, "report "+what, asked, func(tx *gorm.DB) (Report, error) {
		at, err := reportedAt(tx, at)
		if err != nil {
			return Report{}, err
		}
		d, err := openLoad(tx, load)
		if err != nil {
			return Report{}, err
		}
		if what == reportIn {
			err = d.putIn(at)
		} else {
			err = d.takeOut(at)
		}
		if err != nil {
			return Report{}, err
		}
		return d.enter(&reportRow{What: what, Load: load, At: at}, nil)
	})
}

// reportedAt returns when something happened that is reported: at a stated
// instant, which is not to come, or now.
func reportedAt(tx *gorm.DB, at time.Time) (int64, error) {
	if at.IsZero() {
		return millis(tx), nil
	}
	if at.After(now(tx)) {
		return 0, strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is still to come", clock(at))}}
	}
	return at.UnixMilli(), nil
}

// checkScrap refuses scrap for no reason, or for one twice.
func checkScrap(scrap []Scrap) error {
	var found strict.Problems
	seen := map[string]bool{}
	for i, s := range scrap {
		path := fmt.Sprintf("scrap[%d]", i)
		switch {
		case !slices.Contains(Defects(), s.Reason):
			found = append(found, strict.Problem{Path: path + ".reason", Message: fmt.Sprintf("%q is no defect; there are %s", s.Reason, strings.Join(Defects(), ", "))})
		case seen[s.Reason]:
			found = append(found, strict.Problem{Path: path + ".reason", Message: fmt.Sprintf("%q is there twice", s.Reason)})
		}
		seen[s.Reason] = true
		if s.Pieces < 1 {
			found = append(found, strict.Problem{Path: path + ".pieces", Message: fmt.Sprintf("is %d, but must be at least 1", s.Pieces)})
		}
	}
	if len(found) == 0 {
		return nil
	}
	return found
}

// enter writes a report that the load's records bear already, and what follows
// from it.
func (d *desk) enter(r *reportRow, scrap []Scrap) (Report, error) {
	if err := d.finish(); err != nil {
		return Report{}, err
	}
	out, err := enterReport(d.tx, r, scrap)
	if err != nil {
		return Report{}, err
	}
	return out, trail(d.tx, kindReport, strconv.FormatInt(out.ID, 10), r.What, nil, toldReport(out))
}

// toldReport is what the trail says of a report.
func toldReport(r Report) any {
	out := map[string]any{"load": r.Load, "at": r.At}
	if r.Task != 0 {
		out["task"] = r.Task
	}
	if r.What == reportDone || r.What == reportCorrected {
		out["good"], out["scrap"], out["dead"] = r.Good, r.Scrap, r.Dead
	}
	if r.Corrects != 0 {
		out["corrects"], out["withdrawn"], out["reason"] = r.Corrects, r.Withdrawn, r.Reason
	}
	return out
}

// A ReportFilter asks for some reports. What is zero asks for any.
type ReportFilter struct {
	Load   string
	Task   int64
	Before int64 // with a smaller ID: the next page
	Limit  int   // 0 is MaxPage
}

// Reports returns reports, the newest first.
func (b *Books) Reports(ctx context.Context, f ReportFilter) ([]Report, error) {
	var out []Report
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		out, err = reportsWith(tx, f.apply)
		return err
	})
	return out, doing(err, "reports")
}

func (f ReportFilter) apply(tx *gorm.DB) *gorm.DB {
	if f.Load != "" {
		tx = tx.Where("load = ?", f.Load)
	}
	if f.Task != 0 {
		tx = tx.Where("task = ?", f.Task)
	}
	if f.Before > 0 {
		tx = tx.Where("id < ?", f.Before)
	}
	return tx.Order("id DESC").Limit(page(f.Limit))
}
