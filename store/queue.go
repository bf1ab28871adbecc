package store

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// The states of a released task.
const (
	TaskWaiting = "waiting"
	TaskBegun   = "begun"
	TaskDone    = "done"
)

// A Task is a released task: as it was planned, and as it stands.
type Task struct {
	ID       int64
	Load     string
	Product  string
	Section  string
	Stage    string
	Prepreg  string // of a cut task
	Mandrel  string // the type; of a tack task what to take, of a pull task what to give back
	Position int
	Setup    bool
	Planned  int // pieces as planned
	Pieces   int // that it has now; at pull mandrels
	Live     int // of them good when it begins
	PlanFrom time.Time
	PlanTo   time.Time
	From     time.Time // as reported, or else expected
	To       time.Time
	State    string
	Good     int // once it is done
	Scrapped int
	Dead     int
}

// A FloorLoad is a released load: as it was planned, and as it stands. Its lists are
// shared: nobody changes them.
type FloorLoad struct {
	Planned  shop.Load
	Release  int64
	In       time.Time // as reported, or else expected
	Cure     time.Time
	CureEnd  time.Time
	Out      time.Time
	WentIn   bool
	CameOut  bool
	Finished time.Time // when the last of its work was done; zero before
	Tasks    []Task    // in the order in which they begin
}

// Queue returns what a station has on a local day, position by position in the
// order of the work: what is expected, what was done, and what is in work.
func (b *Books) Queue(ctx context.Context, station string, day shop.Date) ([]Task, error) {
	var out []Task
	err := b.read(ctx, func(tx *gorm.DB) error {
		var stage shop.Stage
		if stage.UnmarshalText([]byte(station)) != nil {
			return notFound("station", station)
		}
		h, err := b.hall(tx)
		if err != nil {
			return err
		}
		from, to := h.day(day)
		for _, t := range h.tasks {
			if t.Stage == station && t.Pieces > 0 && t.From.Before(to) && t.To.After(from) {
				out = append(out, t)
			}
		}
		return nil
	})
	slices.SortFunc(out, func(a, b Task) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), a.From.Compare(b.From), cmp.Compare(a.ID, b.ID))
	})
	return out, doing(err, "queue of %s", station)
}

// OvenQueue returns the loads that an oven has on a local day, in order.
func (b *Books) OvenQueue(ctx context.Context, oven string, day shop.Date) ([]FloorLoad, error) {
	var out []FloorLoad
	err := b.read(ctx, func(tx *gorm.DB) error {
		if _, err := takeThing(tx, "oven", oven); err != nil {
			return err
		}
		h, err := b.hall(tx)
		if err != nil {
			return err
		}
		from, to := h.day(day)
		for i, l := range h.loads {
			if l.Planned.Oven == oven && h.standsAt(i) && l.In.Before(to) && l.Out.After(from) {
				out = append(out, l)
			}
		}
		return nil
	})
	slices.SortFunc(out, func(a, b FloorLoad) int { return cmp.Or(a.In.Compare(b.In), cmp.Compare(a.Planned.ID, b.Planned.ID)) })
	return out, doing(err, "queue of oven %s", oven)
}

// FloorLoads returns the released loads that are not finished, or were lately,
// in the order in which they go in, with their tasks.
func (b *Books) FloorLoads(ctx context.Context) ([]FloorLoad, error) {
	var out []FloorLoad
	err := b.read(ctx, func(tx *gorm.DB) error {
		h, err := b.hall(tx)
		if err != nil {
			return err
		}
		out = slices.Clone(h.loads)
		return nil
	})
	slices.SortFunc(out, func(a, b FloorLoad) int { return cmp.Or(a.In.Compare(b.In), cmp.Compare(a.Planned.ID, b.Planned.ID)) })
	return out, doing(err, "released loads")
}

// FloorLoad returns a released load with its tasks.
func (b *Books) FloorLoad(ctx context.Context, id string) (FloorLoad, error) {
	var out FloorLoad
	err := b.read(ctx, func(tx *gorm.DB) error {
		h, err := b.hallBy(tx, id)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(h.loads, func(l FloorLoad) bool { return l.Planned.ID == id })
		if i < 0 {
			return notFound("released load", id)
		}
		out = h.loads[i]
		return nil
	})
	return out, doing(err, "released load")
}

// FloorTask returns a released task.
func (b *Books) FloorTask(ctx context.Context, id int64) (Task, error) {
	var out Task
	err := b.read(ctx, func(tx *gorm.DB) error {
		var row releasedTaskRow
		if err := tx.Where("id = ?", id).Take(&row).Error; err != nil {
			if missing(err) {
				err = notFound("task", strconv.FormatInt(id, 10))
			}
			return err
		}
		h, err := b.hallBy(tx, row.Load)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(h.tasks, func(t Task) bool { return t.ID == id })
		if i < 0 {
			return notFound("task", strconv.FormatInt(id, 10))
		}
		out = h.tasks[i]
		return nil
	})
	return out, doing(err, "task")
}

// day returns when a local day begins and ends.
func (h *hall) day(day shop.Date) (from, to time.Time) {
	zone := h.shop.Zone()
	return minute(shop.At(day, 0, zone)), minute(shop.At(day+1, 0, zone))
}

func minute(m int64) time.Time { return time.Unix(m*60, 0).UTC() }

// look reckons how the floor's tasks and loads stand, once for all who ask.
func (h *hall) look() error {
	byLoad := map[string][]Task{}
	sections := sectionsOf(h.shop)
	for i := range h.floor.tasks {
		t := h.task(i, sections)
		h.tasks, byLoad[t.Load] = append(h.tasks, t), append(byLoad[t.Load], t)
	}
	for i := range h.floor.loads {
		l, err := h.load(i)
		if err != nil {
			return err
		}
		l.Tasks = byLoad[l.Planned.ID]
		slices.SortStableFunc(l.Tasks, func(a, b Task) int { return a.From.Compare(b.From) })
		h.loads = append(h.loads, l)
	}
	return nil
}

// A sectionIn is a section with the product that it is of.
type sectionIn struct {
	*shop.Section
	product string
}

func sectionsOf(s *shop.Shop) map[string]sectionIn {
	out := map[string]sectionIn{}
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			section := &s.Products[i].Sections[k]
			out[section.ID] = sectionIn{section, s.Products[i].ID}
		}
	}
	return out
}

// task returns a task of the floor as it stands.
func (h *hall) task(i int, sections map[string]sectionIn) Task {
	row, times := &h.floor.tasks[i], h.floor.standing.Tasks[i]
	out := Task{
		ID: row.ID, Load: row.Load, Section: row.Section, Stage: row.Stage, Prepreg: row.Prepreg, Position: row.Position,
		Setup: row.Setup, Planned: row.Pieces, Pieces: times.Pieces, Live: times.Live,
		PlanFrom: instant(row.Starts), PlanTo: instant(row.Ends), From: minute(times.Start.Minute), To: minute(times.End.Minute),
		State: TaskWaiting, Good: row.Good, Scrapped: row.Scrapped, Dead: row.Dead,
	}
	if section, ok := sections[row.Section]; ok {
		out.Product = section.product
		if stage := row.stage(); stage == shop.Tack || stage == shop.Pull {
			out.Mandrel = section.Mandrel
		}
	}
	switch {
	case row.Done != nil:
		out.State = TaskDone
		out.From, out.To = instant(*row.Begun), instant(*row.Done)
	case row.Begun != nil:
		out.State = TaskBegun
		out.From = instant(*row.Begun)
	}
	return out
}

// load returns a load of the floor as it stands, without its tasks.
func (h *hall) load(i int) (FloorLoad, error) {
	row, times := &h.floor.loads[i], h.floor.standing.Loads[i]
	planned, err := row.planned()
	return FloorLoad{
		Planned: planned, Release: row.Release,
		In: minute(times.In.Minute), Cure: minute(times.CureStart.Minute), CureEnd: minute(times.CureEnd.Minute), Out: minute(times.Out.Minute),
		WentIn: row.InAt != nil, CameOut: row.OutAt != nil, Finished: optional(row.Finished),
	}, err
}

// standsAt reports whether a load of the hall was, or will be, in an oven: one
// whose pieces were all scrapped before is not.
func (h *hall) standsAt(i int) bool {
	row := &h.floor.loads[i]
	return row.OutAt != nil || row.Finished == nil
}
