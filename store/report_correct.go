package store

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A Correction says what a report should have said.
type Correction struct {
	Report int64
	Reason string
	// Withdraw says that what was reported never happened.
	Withdraw bool
	At       time.Time // zero leaves it
	// Of a task that is done: what became of its pieces, in full.
	Good  int
	Scrap []Scrap
	Dead  int
}

// Correct corrects a report. What followed from it follows anew: pieces,
// loose pieces and stock. A correction that what was reported since does not
// allow is refused, and says what to correct first.
func (b *Books) Correct(ctx context.Context, c Correction) (Report, error) {
	return once(ctx, b, "correct report", c, func(tx *gorm.DB) (Report, error) {
		told, err := reportToCorrect(tx, c)
		if err != nil {
			return Report{}, err
		}
		d, err := openLoad(tx, told.Load)
		if err != nil {
			return Report{}, err
		}
		row := reportRow{What: reportCorrected, Load: told.Load, Corrects: &c.Report, Withdrawn: c.Withdraw, Reason: c.Reason, At: told.At.UnixMilli()}
		if told.Task != 0 {
			row.Task = &told.Task
		}
		if !c.At.IsZero() {
			row.At = c.At.UnixMilli()
		}
		if told.What == reportDone && !c.Withdraw {
			row.Good, row.Dead = c.Good, c.Dead
		}
		if err := d.correct(told, c, row.At); err != nil {
			return Report{}, err
		}
		return d.enter(&row, c.Scrap)
	})
}

// reportToCorrect returns a report as it stands after the corrections before.
func reportToCorrect(tx *gorm.DB, c Correction) (Report, error) {
	var found strict.Problems
	if c.Reason == "" {
		found = append(found, strict.Problem{Path: "reason", Message: "is missing: it says what was wrong"})
	}
	if c.At.After(now(tx)) {
		found = append(found, strict.Problem{Path: "at", Message: fmt.Sprintf("%s is still to come", clock(c.At))})
	}
	if len(found) > 0 {
		return Report{}, found
	}
	chain, err := reportsWith(tx, func(q *gorm.DB) *gorm.DB {
		return q.Where("id = ? OR corrects = ?", c.Report, c.Report).Order("id")
	})
	switch {
	case err != nil:
		return Report{}, err
	case len(chain) == 0:
		return Report{}, notFound(kindReport, strconv.FormatInt(c.Report, 10))
	case chain[0].What == reportCorrected:
		return Report{}, conflict("report %d is a correction: correct report %d", c.Report, chain[0].Corrects)
	}
	told := standsAs(chain)
	if told.Withdrawn {
		return told, conflict("report %d is withdrawn: report anew", c.Report)
	}
	return told, nil
}

// standsAs returns what a report says after its corrections, in their order.
func standsAs(chain []Report) Report {
	out := chain[0]
	for _, c := range chain[1:] {
		out.At, out.Good, out.Dead, out.Scrap, out.Withdrawn = c.At, c.Good, c.Dead, c.Scrap, c.Withdrawn
	}
	return out
}

func (d *desk) correct(told Report, c Correction, at int64) error {
	switch told.What {
	case reportBegun:
		return d.correctBegun(d.index(told.Task), c, at)
	case reportDone:
		return d.correctDone(d.index(told.Task), c, at)
	case reportIn:
		return d.correctIn(c, at)
	}
	return d.correctOut(c, at)
}

func (d *desk) correctBegun(i int, c Correction, at int64) error {
	t := &d.tasks[i]
	if c.Withdraw {
		if t.Done != nil {
			return conflict("task %d is done: withdraw that report first", t.ID)
		}
		t.Begun, t.Lasts = nil, nil
		return errors.Join(d.giveBack(t, at), d.tx.Save(t).Error)
	}
	if t.Done != nil && at > *t.Done {
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is after the task was done, at %s", clock(instant(at)), clock(instant(*t.Done)))}}
	}
	t.Begun = &at
	return d.tx.Save(t).Error
}

// giveBack returns to the rolls what a cut task had drawn that was not begun.
func (d *desk) giveBack(t *releasedTaskRow, at int64) error {
	var draws []taskDrawRow
	if err := d.tx.Where("task = ?", t.ID).Find(&draws).Error; err != nil {
		return err
	}
	for _, draw := range draws {
		if err := undrawPrepreg(d.tx, draw.Roll, draw.M2, instant(at), fmt.Sprintf("task %d of load %s was not begun", t.ID, t.Load)); err != nil {
			return err
		}
	}
	return d.tx.Where("task = ?", t.ID).Delete(&taskDrawRow{}).Error
}

func (d *desk) correctDone(i int, c Correction, at int64) error {
	t := &d.tasks[i]
	if at < *t.Begun {
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is before the task was begun, at %s", clock(instant(at)), clock(instant(*t.Begun)))}}
	}
	// The task is taken for not done, and done anew.
	was := *t
	t.Done, t.Scrapped, t.Dead = nil, 0, 0
	d.count()
	if c.Withdraw {
		t.Good = 0
		d.count()
		if err := errors.Join(d.follows(i), d.tx.Save(t).Error); err != nil {
			return err
		}
		if was.stage() == shop.Trim {
			return trimmed(d.tx, t, -was.Good)
		}
		return nil
	}
	r := TaskReport{Good: c.Good, Scrap: c.Scrap, Dead: c.Dead}
	if err := checkScrap(c.Scrap); err != nil {
		return err
	}
	if err := d.checkCount(i, r); err != nil {
		return err
	}
	if err := d.settle(i, at, c.Good, piecesOf(c.Scrap), c.Dead); err != nil {
		return err
	}
	return d.follows(i)
}

// follows refuses a correction after which more pieces would have passed the
// next stage than came to it, or more would have hung in the oven.
func (d *desk) follows(i int) error {
	t := &d.tasks[i]
	next := d.pick(func(o *releasedTaskRow) bool { return o.Section == t.Section && o.stage() == t.stage()+1 })
	if t.stage() == shop.Wrap {
		if d.load.InAt != nil && t.Done == nil {
			return conflict("load %s is in the oven: withdraw that report first", d.load.ID)
		}
		next = nil
	}
	passed := 0
	for _, k := range next {
		if o := &d.tasks[k]; o.Done != nil {
			passed += o.Good + o.Scrapped
		}
	}
	if len(next) == 0 || passed == 0 {
		return d.stillPulled(t)
	}
	if come, _ := d.come(next[0]); passed > come {
		return conflict("%d pieces of section %s of load %s have passed %s already, and only %d would have come: correct those reports first",
			passed, t.Section, t.Load, d.tasks[next[0]].Stage, come)
	}
	return d.stillPulled(t)
}

// stillPulled refuses a correction before the oven after which more pieces
// would have been pulled than hung.
func (d *desk) stillPulled(t *releasedTaskRow) error {
	if t.stage() >= shop.Pull {
		return nil
	}
	pulled, hung, tacked := 0, 0, 0
	for k := range d.tasks {
		o := &d.tasks[k]
		switch {
		case o.Section != t.Section:
		case o.stage() == shop.Tack:
			tacked += d.counts[k].Pieces
		case o.stage() == shop.Wrap:
			hung += o.Good
		case o.stage() == shop.Pull && o.Done != nil:
			pulled += o.Good + o.Scrapped
			tacked -= o.Good + o.Scrapped + o.Dead
		}
	}
	if pulled > 0 && (pulled > hung || tacked < 0) {
		return conflict("%d pieces of section %s of load %s were pulled already, and only %d would have hung: correct those reports first",
			pulled, t.Section, t.Load, hung)
	}
	return nil
}

func (d *desk) correctIn(c Correction, at int64) error {
	if c.Withdraw {
		if d.load.OutAt != nil {
			return conflict("load %s is out already: withdraw that report first", d.load.ID)
		}
		d.load.InAt = nil
		return d.tx.Save(&d.load).Error
	}
	if d.load.OutAt != nil && at > *d.load.OutAt {
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is after the load came out, at %s", clock(instant(at)), clock(instant(*d.load.OutAt)))}}
	}
	d.load.InAt = &at
	return d.tx.Save(&d.load).Error
}

func (d *desk) correctOut(c Correction, at int64) error {
	if c.Withdraw {
		for i := range d.tasks {
			if t := &d.tasks[i]; t.stage() == shop.Pull && t.Begun != nil {
				return conflict("task %d was begun to be pulled: withdraw that report first", t.ID)
			}
		}
		if err := d.ovenFree(); err != nil {
			return err
		}
		d.load.OutAt = nil
		return d.tx.Save(&d.load).Error
	}
	if at < *d.load.InAt {
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is before the load went in, at %s", clock(instant(at)), clock(instant(*d.load.InAt)))}}
	}
	d.load.OutAt = &at
	return d.tx.Save(&d.load).Error
}
