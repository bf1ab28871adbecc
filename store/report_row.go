package store

import (
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"
)

// What a report says.
const (
	reportBegun     = "begun"     // a task was begun
	reportDone      = "done"      // a task is done
	reportIn        = "in"        // a load went into its oven
	reportOut       = "out"       // a load is out of its oven
	reportCorrected = "corrected" // another report was wrong
)

// Defects returns the reasons for which a piece may be scrapped.
func Defects() []string {
	return []string{
		"wrinkle", "void", "delamination", "resin-rich", "starved", "tape ridge", "soft spot", "under-cure", "bow",
		"off-spine", "stuck", "split", "crushed tip", "mis-tack", "wrong flag",
	}
}

// Scrap is pieces that were scrapped for one of the Defects.
type Scrap struct {
	Reason string `json:"reason"`
	Pieces int    `json:"pieces"`
}

// A Report is one entry of what the floor reported.
type Report struct {
	ID        int64
	What      string // begun, done, in, out or corrected
	Load      string
	Task      int64 // 0 of a load's own
	At        time.Time
	Good      int // of a task that is done: pieces that go on
	Dead      int // at pull: pieces scrapped before, on their mandrels
	Scrap     []Scrap
	Corrects  int64  // the report that this one corrects, 0 for none
	Withdrawn bool   // of a correction: what the other one says never happened
	Reason    string // of a correction
	Entered   time.Time
	By        string
}

type reportRow struct {
	ID        int64 `gorm:"primaryKey"`
	What      string
	Load      string
	Task      *int64
	Corrects  *int64
	At        int64
	Good      int
	Dead      int
	Withdrawn bool
	Reason    string
	Entered   int64
	Actor     string
}

func (reportRow) TableName() string { return "reports" }

type reportScrapRow struct {
	Report int64  `gorm:"primaryKey"`
	Reason string `gorm:"primaryKey"`
	Pieces int
}

func (reportScrapRow) TableName() string { return "report_scrap" }

func (r *reportRow) report(scrap []Scrap) Report {
	out := Report{
		ID: r.ID, What: r.What, Load: r.Load, At: instant(r.At), Good: r.Good, Dead: r.Dead, Scrap: scrap,
		Withdrawn: r.Withdrawn, Reason: r.Reason, Entered: instant(r.Entered), By: r.Actor,
	}
	if r.Task != nil {
		out.Task = *r.Task
	}
	if r.Corrects != nil {
		out.Corrects = *r.Corrects
	}
	return out
}

// enterReport writes a report with its scrap.
func enterReport(tx *gorm.DB, r *reportRow, scrap []Scrap) (Report, error) {
	r.Entered, r.Actor = millis(tx), actor(tx.Statement.Context)
	if err := tx.Create(r).Error; err != nil {
		return Report{}, err
	}
	scrap = slices.SortedFunc(slices.Values(scrap), func(a, b Scrap) int { return strings.Compare(a.Reason, b.Reason) })
	for _, s := range scrap {
		if err := tx.Create(&reportScrapRow{r.ID, s.Reason, s.Pieces}).Error; err != nil {
			return Report{}, err
		}
	}
	return r.report(scrap), nil
}

// reportsWith returns the reports that a query picks, by id.
func reportsWith(tx *gorm.DB, pick func(*gorm.DB) *gorm.DB) ([]Report, error) {
	var rows []reportRow
	if err := pick(tx).Find(&rows).Error; err != nil || len(rows) == 0 {
		return nil, err
	}
	var scrap []reportScrapRow
	ids := pick(tx.Model(&reportRow{})).Select("id")
	if err := tx.Where("report IN (?)", ids).Order("report, reason").Find(&scrap).Error; err != nil {
		return nil, err
	}
	of := map[int64][]Scrap{}
	for _, s := range scrap {
		of[s.Report] = append(of[s.Report], Scrap{s.Reason, s.Pieces})
	}
	out := make([]Report, len(rows))
	for i := range rows {
		out[i] = rows[i].report(of[rows[i].ID])
	}
	return out, nil
}

// piecesOf sums up scrap.
func piecesOf(scrap []Scrap) (n int) {
	for _, s := range scrap {
		n += s.Pieces
	}
	return n
}
