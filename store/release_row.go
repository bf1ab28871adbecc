package store

import (
	"gorm.io/gorm"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
)

type releaseRow struct {
	ID     int64 `gorm:"primaryKey"`
	Plan   *int64
	Until  int64
	At     int64
	Actor  string
	Undone *int64
}

func (releaseRow) TableName() string { return "releases" }

type releasedLoadRow struct {
	ID        string `gorm:"primaryKey"`
	Release   int64
	PlannedAs string
	Body      string
	InAt      *int64
	OutAt     *int64
	Finished  *int64
	Undone    bool
}

func (releasedLoadRow) TableName() string { return "released_loads" }

// planned returns the load as it was planned, under its id in the books.
func (r *releasedLoadRow) planned() (shop.Load, error) {
	l, err := decode[shop.Load]([]byte(r.Body))
	l.ID = r.ID
	return l, doing(err, "released load %q", r.ID)
}

type releasedTaskRow struct {
	ID       int64 `gorm:"primaryKey"`
	Load     string
	Section  string
	Stage    string
	Prepreg  string
	Position int
	Pieces   int
	Setup    bool
	Starts   int64
	Ends     int64
	Begun    *int64
	Done     *int64
	Good     int
	Scrapped int
	Dead     int
	Lasts    *int64
}

func (releasedTaskRow) TableName() string { return "released_tasks" }

// newTaskRow returns the row of a planned task of a load.
func newTaskRow(load string, t shop.Task) releasedTaskRow {
	return releasedTaskRow{
		Load: load, Section: t.Section, Stage: t.Stage.String(), Prepreg: t.Prepreg, Position: t.Position,
		Pieces: t.Pieces, Setup: t.Setup, Starts: millisOf(t.Start), Ends: millisOf(t.End),
	}
}

func (r *releasedTaskRow) stage() (stage shop.Stage) {
	// The books write no other text than a stage's.
	if err := stage.UnmarshalText([]byte(r.Stage)); err != nil {
		panic("store: " + err.Error())
	}
	return stage
}

// task returns the task as package carry looks at it.
func (r *releasedTaskRow) task() carry.Task {
	return carry.Task{
		Planned: shop.Task{
			Load: r.Load, Section: r.Section, Stage: r.stage(), Prepreg: r.Prepreg, Position: r.Position,
			Pieces: r.Pieces, Setup: r.Setup, Start: *minuteOf(&r.Starts), End: *minuteOf(&r.Ends),
		},
		Begun: minuteOf(r.Begun), Done: minuteOf(r.Done),
		Good: r.Good, Scrapped: r.Scrapped, Dead: r.Dead, Lasts: minuteOf(r.Lasts),
	}
}

// millisOf is how the books hold an instant of a file.
func millisOf(i shop.Instant) int64 { return i.Minute * 60_000 }

// minuteOf returns the minute of an instant that the books hold, nil for none.
func minuteOf(millis *int64) *shop.Instant {
	if millis == nil {
		return nil
	}
	return new(shop.InstantOf(instant(*millis)))
}

// A released is some loads with all of their tasks.
type releasedWork struct {
	loads []releasedLoadRow
	tasks []releasedTaskRow
}

// releasedWorkOf returns the loads that a query picks.
func releasedWorkOf(tx *gorm.DB, pick func(*gorm.DB) *gorm.DB) (releasedWork, error) {
	var w releasedWork
	if err := pick(tx.Where("undone = 0")).Order("rowid").Find(&w.loads).Error; err != nil || len(w.loads) == 0 {
		return w, err
	}
	ids := pick(tx.Model(&releasedLoadRow{}).Where("undone = 0")).Select("id")
	return w, tx.Where("load IN (?)", ids).Order("id").Find(&w.tasks).Error
}

// carried returns the work as package carry looks at it.
func (w *releasedWork) carried() (carry.Work, error) {
	out := carry.Work{Loads: make([]carry.Load, len(w.loads)), Tasks: make([]carry.Task, len(w.tasks))}
	for i := range w.loads {
		planned, err := w.loads[i].planned()
		if err != nil {
			return out, err
		}
		out.Loads[i] = carry.Load{Planned: planned, In: minuteOf(w.loads[i].InAt), Out: minuteOf(w.loads[i].OutAt)}
	}
	for i := range w.tasks {
		out.Tasks[i] = w.tasks[i].task()
	}
	return out, nil
}
