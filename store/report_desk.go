package store

import (
	"fmt"
	"slices"

	"gorm.io/gorm"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A desk is one released load with all of its tasks, to write reports into.
type desk struct {
	tx     *gorm.DB
	load   releasedLoadRow
	tasks  []releasedTaskRow
	counts []carry.Count // by task, as of what is reported
}

// openLoad returns the desk of a load that stands.
func openLoad(tx *gorm.DB, id string) (*desk, error) {
	work, err := releasedWorkOf(tx, func(q *gorm.DB) *gorm.DB { return q.Where("id = ?", id) })
	if err != nil {
		return nil, err
	}
	if len(work.loads) == 0 {
		return nil, notFound("released load", id)
	}
	d := &desk{tx: tx, load: work.loads[0], tasks: work.tasks}
	d.count()
	return d, nil
}

// count counts the tasks' pieces anew.
func (d *desk) count() { d.counts = carry.Pieces(d.carried()) }

func (d *desk) carried() carry.Work {
	var w carry.Work
	for i := range d.tasks {
		w.Tasks = append(w.Tasks, d.tasks[i].task())
	}
	return w
}

func (d *desk) index(task int64) int {
	for i := range d.tasks {
		if d.tasks[i].ID == task {
			return i
		}
	}
	panic("store: a task of another load")
}

// begin notes that a task was begun.
func (d *desk) begin(i int, at int64) error {
	t := &d.tasks[i]
	if t.Begun != nil {
		return conflict("task %d was begun at %s already", t.ID, clock(instant(*t.Begun)))
	}
	if d.counts[i].Pieces == 0 {
		return conflict("task %d has nothing to do: its pieces were scrapped", t.ID)
	}
	if err := d.mayBegin(i); err != nil {
		return err
	}
	if err := d.positionFree(t); err != nil {
		return err
	}
	t.Begun = &at
	if t.stage() == shop.Cut {
		if err := d.draw(i, at); err != nil {
			return err
		}
	}
	return d.tx.Save(t).Error
}

// mayBegin refuses a task to which no piece has come yet.
func (d *desk) mayBegin(i int) error {
	t := &d.tasks[i]
	if t.stage() == shop.Pull {
		if d.load.OutAt == nil {
			return conflict("load %s is not out of its oven yet, so that nothing of it can be pulled", d.load.ID)
		}
		return nil
	}
	begun := 0
	for _, k := range d.beside(i) {
		if d.tasks[k].Begun != nil {
			begun += d.counts[k].Live
		}
	}
	if come, any := d.come(i); any && come <= begun {
		return conflict("task %d cannot begin: %d pieces of section %s of load %s have come to %s, and %d were begun on",
			t.ID, come, t.Section, t.Load, t.Stage, begun)
	}
	return nil
}

// beside returns the tasks that share a task's pieces at its stage, itself
// included.
func (d *desk) beside(i int) []int {
	t := &d.tasks[i]
	return d.pick(func(o *releasedTaskRow) bool {
		return o.Section == t.Section && o.Stage == t.Stage && o.Prepreg == t.Prepreg
	})
}

// come returns how many good pieces of the stage before have come to a task's
// stage: at tack, of the prepreg of which the fewest have. It is false at cut,
// and where the load has no tasks at the stage before.
func (d *desk) come(i int) (pieces int, any bool) {
	t := &d.tasks[i]
	by := map[string]int{}
	for _, k := range d.pick(func(o *releasedTaskRow) bool { return o.Section == t.Section && o.stage() == t.stage()-1 }) {
		by[d.tasks[k].Prepreg] += d.tasks[k].Good
	}
	for _, n := range by {
		if !any || n < pieces {
			pieces, any = n, true
		}
	}
	return pieces, any
}

func (d *desk) pick(want func(*releasedTaskRow) bool) []int {
	var out []int
	for i := range d.tasks {
		if want(&d.tasks[i]) {
			out = append(out, i)
		}
	}
	return out
}

// positionFree refuses a task whose position has another one in work.
func (d *desk) positionFree(t *releasedTaskRow) error {
	var others []releasedTaskRow
	err := d.tx.Where("stage = ? AND position = ? AND begun IS NOT NULL AND done IS NULL", t.Stage, t.Position).
		Where("load IN (SELECT id FROM released_loads WHERE undone = 0)").Limit(1).Find(&others).Error
	if err == nil && len(others) > 0 {
		return conflict("%s/%d has task %d of load %s in work, since %s: report that it is done first",
			t.Stage, t.Position, others[0].ID, others[0].Load, clock(instant(*others[0].Begun)))
	}
	return err
}

// end notes that a task is done.
func (d *desk) end(i int, at int64, r TaskReport) error {
	t := &d.tasks[i]
	switch {
	case t.Begun == nil:
		return conflict("task %d was not begun: report that first", t.ID)
	case t.Done != nil:
		return conflict("task %d was done at %s already: correct that report", t.ID, clock(instant(*t.Done)))
	case at < *t.Begun:
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is before the task was begun, at %s", clock(instant(at)), clock(instant(*t.Begun)))}}
	}
	if err := d.checkCount(i, r); err != nil {
		return err
	}
	return d.settle(i, at, r.Good, piecesOf(r.Scrap), r.Dead)
}

// checkCount refuses what does not account for all pieces of a task.
func (d *desk) checkCount(i int, r TaskReport) error {
	count, told := d.counts[i], r.Good+piecesOf(r.Scrap)
	var found strict.Problems
	if r.Good < 0 {
		found = append(found, strict.Problem{Path: "good", Message: fmt.Sprintf("is %d, but must be at least 0", r.Good)})
	}
	dead, least, most := count.Pieces-count.Live, 0, 0
	if d.tasks[i].stage() == shop.Pull {
		dead, least, most = r.Dead, d.fewestDead(i), d.deadLeft(i)
	}
	if r.Dead < least || r.Dead > most {
		found = append(found, strict.Problem{Path: "dead", Message: fmt.Sprintf("is %d, but must be from %d to %d: so many pieces that were scrapped before are still on mandrels", r.Dead, least, most)})
	}
	if want := count.Pieces - dead; len(found) == 0 && told != want {
		found = append(found, strict.Problem{Path: "good", Message: fmt.Sprintf("and scrap are %d together, but the task has %d pieces: each is one or the other", told, want)})
	}
	if len(found) > 0 {
		return found
	}
	return d.enough(i, told)
}

// enough refuses a task that is done with more pieces than have come to it.
func (d *desk) enough(i, told int) error {
	t := &d.tasks[i]
	come, any := d.come(i)
	if !any || t.stage() == shop.Pull {
		return nil
	}
	for _, k := range d.beside(i) {
		if o := &d.tasks[k]; o.Done != nil && k != i {
			told += o.Good + o.Scrapped
		}
	}
	if told > come {
		return conflict("task %d cannot be done: with it, %d pieces of section %s of load %s would have passed %s, and %d have come: report what came before",
			t.ID, told, t.Section, t.Load, t.Stage, come)
	}
	return nil
}

// deadLeft returns how many dead pieces the pull tasks that are not done still
// have to find, as many as this one can hold.
func (d *desk) deadLeft(i int) int {
	left := 0
	for _, k := range d.beside(i) {
		if d.tasks[k].Done == nil {
			left += d.counts[k].Pieces - d.counts[k].Live
		}
	}
	return min(left, d.counts[i].Pieces)
}

// fewestDead returns how many of them must be on this task's mandrels, because
// the others have too few.
func (d *desk) fewestDead(i int) int {
	left, room := 0, 0
	for _, k := range d.beside(i) {
		if d.tasks[k].Done != nil {
			continue
		}
		left += d.counts[k].Pieces - d.counts[k].Live
		if k != i {
			room += d.counts[k].Pieces
		}
	}
	return max(0, left-room)
}

// settle writes what became of a task's pieces.
func (d *desk) settle(i int, at int64, good, scrapped, dead int) error {
	t := &d.tasks[i]
	more := good - t.Good
	t.Done, t.Good, t.Scrapped, t.Dead = &at, good, scrapped, dead
	if err := d.tx.Save(t).Error; err != nil {
		return err
	}
	d.count()
	if t.stage() == shop.Trim {
		return trimmed(d.tx, t, more)
	}
	return nil
}

// putIn notes that the load went into its oven.
func (d *desk) putIn(at int64) error {
	if d.load.InAt != nil {
		return conflict("load %s went in at %s already", d.load.ID, clock(instant(*d.load.InAt)))
	}
	hung := 0
	for _, k := range d.pick(func(o *releasedTaskRow) bool { return o.stage() == shop.Wrap }) {
		if d.counts[k].Pieces > 0 && d.tasks[k].Done == nil {
			return conflict("load %s cannot go in: task %d, %d pieces of section %s, is not wrapped yet",
				d.load.ID, d.tasks[k].ID, d.counts[k].Pieces, d.tasks[k].Section)
		}
		hung += d.tasks[k].Good
	}
	if hung == 0 {
		return conflict("load %s has no pieces to go in", d.load.ID)
	}
	if err := d.ovenFree(); err != nil {
		return err
	}
	d.load.InAt = &at
	return d.tx.Save(&d.load).Error
}

// ovenFree refuses a load while another one is in its oven.
func (d *desk) ovenFree() error {
	own, err := d.load.planned()
	if err != nil {
		return err
	}
	work, err := releasedWorkOf(d.tx, func(q *gorm.DB) *gorm.DB { return q.Where("in_at IS NOT NULL AND out_at IS NULL") })
	if err != nil {
		return err
	}
	for i := range work.loads {
		other, err := work.loads[i].planned()
		if err == nil && other.Oven == own.Oven {
			err = conflict("oven %s has load %s in it: report that it is out first", own.Oven, other.ID)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// takeOut notes that the load is out of its oven.
func (d *desk) takeOut(at int64) error {
	switch {
	case d.load.InAt == nil:
		return conflict("load %s did not go in: report that first", d.load.ID)
	case d.load.OutAt != nil:
		return conflict("load %s came out at %s already", d.load.ID, clock(instant(*d.load.OutAt)))
	case at < *d.load.InAt:
		return strict.Problems{{Path: "at", Message: fmt.Sprintf("%s is before the load went in, at %s", clock(instant(at)), clock(instant(*d.load.InAt)))}}
	}
	d.load.OutAt = &at
	return d.tx.Save(&d.load).Error
}

// finish notes when the last of the load's work was done, or that some is left.
func (d *desk) finish() error {
	d.count()
	var last int64
	left, tacked := false, false
	for i := range d.tasks {
		t := &d.tasks[i]
		switch {
		case t.Done != nil:
			last = max(last, *t.Done)
		case t.Begun != nil || d.counts[i].Pieces > 0:
			left = true
		}
		tacked = tacked || t.stage() >= shop.Tack && (t.Done != nil || d.counts[i].Pieces > 0)
	}
	if d.load.OutAt != nil {
		last = max(last, *d.load.OutAt)
	}
	d.load.Finished = nil
	if !left && (d.load.OutAt != nil || !tacked) {
		d.load.Finished = &last
	}
	return d.tx.Save(&d.load).Error
}

// draw takes what a cut task cuts from the rolls.
func (d *desk) draw(i int, at int64) error {
	t := &d.tasks[i]
	s, err := catalog(d.tx)
	if err != nil {
		return err
	}
	m2 := float64(d.counts[i].Live) * areaOf(s, t.Section, t.Prepreg)
	got, err := drawPrepreg(d.tx, t.Prepreg, m2, instant(at), fmt.Sprintf("task %d of load %s", t.ID, t.Load))
	if err != nil {
		return err
	}
	for _, take := range got.takes {
		if err := d.tx.Create(&taskDrawRow{t.ID, take.Roll, take.M2}).Error; err != nil {
			return err
		}
	}
	t.Lasts = optionalMillis(got.good)
	return nil
}

type taskDrawRow struct {
	Task int64  `gorm:"primaryKey"`
	Roll string `gorm:"primaryKey"`
	M2   float64
}

func (taskDrawRow) TableName() string { return "task_draws" }

// areaOf returns the square metres of a prepreg that a piece of a section uses.
func areaOf(s *shop.Shop, section, prepreg string) float64 {
	_, of := sectionOf(s, section)
	k := slices.IndexFunc(s.Prepregs, func(p shop.Prepreg) bool { return p.ID == prepreg })
	if of == nil || k < 0 {
		return 0 // the catalog has changed since
	}
	return of.M2(&s.Prepregs[k])
}
