package store

import (
	"errors"
	"slices"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// stated is the kind of thing under which the released work of an imported
// file stays, word for word, until something happens in the books.
const stated = "released"

// loadLater stands for a part that is added when all the rest is there.
func loadLater(*gorm.DB, *shop.Shop) error { return nil }

// loadReleased adds the released work, and what else of the floor a shop file
// tells: the set-ups that finished work left, and good pieces that make no set
// yet. The shop is there with all else, and its now. As long as nothing has
// happened since a file was imported, the work is as that states it.
func loadReleased(tx *gorm.DB, s *shop.Shop) (*floor, error) {
	f, err := floorOf(tx, s)
	if err != nil {
		return nil, err
	}
	untouched, err := untouched(tx)
	switch {
	case err != nil:
		return nil, err
	case untouched:
		return f, loadStated(tx, s)
	}
	s.Released, s.Stations = f.standing.Released, f.standing.Stations
	return f, loadLoose(tx, s)
}

// untouched reports whether nothing has happened since the import.
func untouched(tx *gorm.DB) (bool, error) {
	var began importRow
	if err := tx.Take(&began).Error; err != nil {
		if missing(err) {
			err = nil
		}
		return false, err
	}
	last, err := lastEntry(tx)
	return last == began.Trail, err
}

func loadStated(tx *gorm.DB, s *shop.Shop) error {
	var rows []thingRow
	if err := tx.Where("kind = ?", stated).Find(&rows).Error; err != nil || len(rows) == 0 {
		return err
	}
	work, err := decode[shop.Released]([]byte(rows[0].Body))
	s.Released = &work
	return err
}

// saveReleased writes the released work of a file: word for word, and as a
// release of which so much is reported as lies before the file's now.
func saveReleased(tx *gorm.DB, s *shop.Shop) error {
	if s.Released == nil {
		return nil
	}
	body := string(strict.Encode(s.Released))
	row := releaseRow{Until: millisOf(s.Now), At: millis(tx), Actor: actor(tx.Statement.Context)}
	err := errors.Join(
		tx.Create(&thingRow{Kind: stated, ID: stated, Position: 1, Rev: 1, Body: body}).Error,
		tx.Create(&row).Error,
	)
	if err != nil {
		return err
	}
	for _, l := range s.Released.Loads {
		i := importer{tx: tx, now: millisOf(s.Now)}
		if err := i.load(row.ID, l, s.Released.Tasks); err != nil {
			return doing(err, "released load %q", l.ID)
		}
	}
	return nil
}

// An importer writes one released load of a file.
type importer struct {
	tx    *gorm.DB
	now   int64
	row   releasedLoadRow
	tasks []releasedTaskRow
}

func (i *importer) load(release int64, l shop.Load, tasks []shop.Task) error {
	i.row = releasedLoadRow{ID: l.ID, Release: release, PlannedAs: l.ID, Body: string(strict.Encode(l))}
	i.row.InAt, i.row.OutAt = i.happened(millisOf(l.In), false), i.happened(millisOf(l.Out), true)
	for _, t := range tasks {
		if t.Load == l.ID {
			i.tasks = append(i.tasks, i.task(t))
		}
	}
	i.explain()
	if err := i.tx.Create(&i.row).Error; err != nil {
		return err
	}
	if len(i.tasks) > 0 {
		if err := i.tx.CreateInBatches(i.tasks, batch).Error; err != nil {
			return err
		}
	}
	if err := i.report(); err != nil {
		return err
	}
	d, err := openLoad(i.tx, l.ID)
	if err != nil {
		return err
	}
	return d.finish()
}

// happened returns an instant if it lies before now, or where it ends
// something not after it.
func (i *importer) happened(at int64, ends bool) *int64 {
	if at < i.now || ends && at == i.now {
		return &at
	}
	return nil
}

func (i *importer) task(t shop.Task) releasedTaskRow {
	row := newTaskRow(t.Load, t)
	row.Begun, row.Done = i.happened(row.Starts, false), i.happened(row.Ends, true)
	if row.Done != nil {
		row.Begun, row.Good = &row.Starts, t.Pieces
	}
	return row
}

// explain finds the scrap that the file does not tell of: what a stage has and
// the next one lacks. It is counted where it was seen last.
func (i *importer) explain() {
	runs := map[string]map[shop.Stage][]int{}
	for k := range i.tasks {
		t := &i.tasks[k]
		if runs[t.Section] == nil {
			runs[t.Section] = map[shop.Stage][]int{}
		}
		runs[t.Section][t.stage()] = append(runs[t.Section][t.stage()], k)
	}
	for _, stages := range runs {
		wrapped, stripped := i.pieces(stages[shop.Wrap]), i.pieces(stages[shop.Strip])
		i.lose(stages[shop.Tack], i.pieces(stages[shop.Roll]))
		i.lose(stages[shop.Roll], wrapped)
		i.kill(stages[shop.Pull], wrapped)
		if last := stages[shop.Pull]; i.allDone(last) {
			i.lose(last, stripped)
		} else {
			i.lose(stages[shop.Wrap], stripped)
		}
		i.lose(stages[shop.Strip], i.pieces(stages[shop.Trim]))
	}
}

func (i *importer) allDone(tasks []int) bool {
	return !slices.ContainsFunc(tasks, func(k int) bool { return i.tasks[k].Done == nil })
}

func (i *importer) pieces(tasks []int) (n int) {
	for _, k := range tasks {
		n += i.tasks[k].Pieces
	}
	return n
}

// lose counts as scrapped what tasks that are done have beyond those that went on.
func (i *importer) lose(tasks []int, on int) {
	i.over(tasks, on, func(t *releasedTaskRow, n int) { t.Scrapped += n })
}

// kill counts as dead the mandrels pulled beyond the pieces that were wrapped.
func (i *importer) kill(tasks []int, wrapped int) {
	i.over(tasks, wrapped, func(t *releasedTaskRow, n int) { t.Dead += n })
}

// over takes from the good pieces of tasks what they have beyond so many, the last
// first, and counts it otherwise.
func (i *importer) over(tasks []int, most int, count func(t *releasedTaskRow, n int)) {
	over := -most
	for _, k := range tasks {
		over += i.tasks[k].Good
	}
	for k := len(tasks) - 1; k >= 0 && over > 0; k-- {
		t := &i.tasks[tasks[k]]
		n := min(over, t.Good)
		t.Good, over = t.Good-n, over-n
		count(t, n)
	}
}

// report writes the reports that the file implies, with the scrap that it leaves
// unexplained.
func (i *importer) report() error {
	put := func(r reportRow) error {
		r.Load, r.Entered, r.Reason = i.row.ID, millis(i.tx), fromFile
		r.Actor = actor(i.tx.Statement.Context)
		return i.tx.Create(&r).Error
	}
	var failed error
	for k := range i.tasks {
		t := &i.tasks[k]
		if t.Begun != nil {
			failed = errors.Join(failed, put(reportRow{What: reportBegun, Task: &t.ID, At: *t.Begun}))
		}
		if t.Done == nil {
			continue
		}
		done := reportRow{What: reportDone, Task: &t.ID, At: *t.Done, Good: t.Good, Dead: t.Dead}
		done.Load, done.Entered, done.Reason, done.Actor = i.row.ID, millis(i.tx), fromFile, actor(i.tx.Statement.Context)
		failed = errors.Join(failed, i.tx.Create(&done).Error)
		if t.Scrapped > 0 {
			failed = errors.Join(failed, i.tx.Create(&reportScrapRow{done.ID, fromFile, t.Scrapped}).Error)
		}
	}
	if i.row.InAt != nil {
		failed = errors.Join(failed, put(reportRow{What: reportIn, At: *i.row.InAt}))
	}
	if i.row.OutAt != nil {
		failed = errors.Join(failed, put(reportRow{What: reportOut, At: *i.row.OutAt}))
	}
	return failed
}
