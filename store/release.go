package store

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

const kindRelease = "release"

// A Release is what was frozen at once of a plan: from then on it is what the
// stations work, and every plan keeps it.
type Release struct {
	ID     int64
	Plan   int64 // 0 where a shop file brought the work along
	Until  time.Time
	At     time.Time
	By     string
	Undone time.Time // zero while it stands
	Loads  []string
}

// Release freezes every load of a plan whose first task starts before an
// instant, with all of its tasks, and puts the plan in force. The plan must
// know all work that is released already. A load keeps its id, unless that was
// another one's before.
func (b *Books) Release(ctx context.Context, planID int64, until time.Time) (Release, error) {
	asked := struct {
		Plan  int64
		Until time.Time
	}{planID, until}
	return once(ctx, b, "release", asked, func(tx *gorm.DB) (Release, error) {
		r := releaser{tx: tx, planID: planID, until: until}
		return r.release()
	})
}

// A releaser makes one release.
type releaser struct {
	tx     *gorm.DB
	planID int64
	until  time.Time
	shop   *shop.Shop // for which the plan was made
	plan   *plan.Plan
}

func (r *releaser) release() (Release, error) {
	if err := putInForce(r.tx, r.planID); err != nil {
		return Release{}, err
	}
	if err := r.read(); err != nil {
		return Release{}, err
	}
	mine, err := r.known()
	if err != nil {
		return Release{}, err
	}
	loads, next := r.starting(mine)
	if len(loads) == 0 {
		return Release{}, r.nothing(next)
	}
	row := releaseRow{Plan: &r.planID, Until: r.until.UnixMilli(), At: millis(r.tx), Actor: actor(r.tx.Statement.Context)}
	if err := r.tx.Create(&row).Error; err != nil {
		return Release{}, err
	}
	ids, err := r.freeze(row.ID, loads)
	if err != nil {
		return Release{}, err
	}
	out := row.release(ids)
	return out, trail(r.tx, kindRelease, strconv.FormatInt(row.ID, 10), "released", nil, toldRelease(out))
}

func (r *releaser) read() error {
	files, err := planFiles(r.tx, r.planID)
	if err != nil {
		return err
	}
	if r.shop, err = shop.Read(files.Shop); err != nil {
		return doing(err, "the shop of plan %d", r.planID)
	}
	r.plan, err = plan.Read(files.Plan, r.shop)
	return doing(err, "plan %d", r.planID)
}

// known returns the plan's loads that are released already, whether they were
// before it was made or are its own. A release that it does not know is
// refused: the plan may use what that holds.
func (r *releaser) known() (map[string]bool, error) {
	known := map[string]bool{}
	if r.shop.Released != nil {
		for _, l := range r.shop.Released.Loads {
			known[l.ID] = true
		}
	}
	var rows []struct {
		ID, PlannedAs string
		Plan          *int64
	}
	err := r.tx.Table("released_loads").Select("released_loads.id, planned_as, plan").
		Joins("JOIN releases ON releases.id = release").Where("released_loads.undone = 0").Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	mine := map[string]bool{}
	for _, row := range rows {
		if row.Plan != nil && *row.Plan == r.planID {
			mine[row.PlannedAs] = true
		}
	}
	for _, l := range r.plan.Loads {
		if known[l.ID] {
			mine[l.ID] = true
		}
	}
	return mine, r.refuseStale(known)
}

// refuseStale refuses a plan that does not know of loads which another plan
// released since it was made.
func (r *releaser) refuseStale(known map[string]bool) error {
	var later []string
	err := r.tx.Table("released_loads").Select("released_loads.id").
		Joins("JOIN releases ON releases.id = release").
		Where("released_loads.undone = 0 AND finished IS NULL AND plan IS NOT NULL AND plan <> ?", r.planID).
		Order("released_loads.rowid").Scan(&later).Error
	if err != nil {
		return err
	}
	later = slices.DeleteFunc(later, func(id string) bool { return known[id] })
	if len(later) > 0 {
		return conflict("plan %d does not know load %s, which was released since it was made: make a new plan", r.planID, later[0])
	}
	return nil
}

// starting returns the loads to release, in the plan's order, and when the
// next one after them starts.
func (r *releaser) starting(mine map[string]bool) (loads []shop.Load, next *shop.Instant) {
	first := map[string]shop.Instant{}
	for _, t := range r.plan.Tasks {
		if at, any := first[t.Load]; !any || t.Start.Minute < at.Minute {
			first[t.Load] = t.Start
		}
	}
	for _, l := range r.plan.Loads {
		switch at := first[l.ID]; {
		case mine[l.ID]:
		case at.Time().Before(r.until):
			loads = append(loads, l)
		case next == nil || at.Minute < next.Minute:
			next = &at
		}
	}
	return loads, next
}

func (r *releaser) nothing(next *shop.Instant) error {
	if next == nil {
		return conflict("all of plan %d is released", r.planID)
	}
	return conflict("no load of plan %d starts before %s; the next one starts %s", r.planID, clock(r.until), clock(next.Time()))
}

// freeze writes the loads and their tasks, and returns the loads' ids.
func (r *releaser) freeze(release int64, loads []shop.Load) ([]string, error) {
	ids, as := make([]string, len(loads)), map[string]string{}
	rows := make([]releasedLoadRow, len(loads))
	for i, l := range loads {
		id, err := freshLoad(r.tx, l.ID, as)
		if err != nil {
			return nil, err
		}
		ids[i], as[l.ID] = id, id
		rows[i] = releasedLoadRow{ID: id, Release: release, PlannedAs: l.ID, Body: string(strict.Encode(l))}
	}
	var tasks []releasedTaskRow
	for _, t := range r.plan.Tasks {
		if id, released := as[t.Load]; released {
			tasks = append(tasks, newTaskRow(id, t))
		}
	}
	if err := r.tx.CreateInBatches(rows, batch).Error; err != nil {
		return nil, err
	}
	return ids, r.tx.CreateInBatches(tasks, batch).Error
}

// freshLoad returns an id that no released load ever had: the plan's own where
// that can be.
func freshLoad(tx *gorm.DB, planned string, taken map[string]string) (string, error) {
	for n := 1; ; n++ {
		id := planned
		if n > 1 {
			id = fmt.Sprintf("%s-%d", planned, n)
		}
		var same int64
		if err := tx.Model(&releasedLoadRow{}).Where("id = ?", id).Count(&same).Error; err != nil {
			return "", err
		}
		for _, other := range taken {
			if other == id {
				same++
			}
		}
		if same == 0 {
			return id, nil
		}
	}
}

func (r *releaseRow) release(loads []string) Release {
	out := Release{
		ID: r.ID, Until: instant(r.Until), At: instant(r.At), By: r.Actor, Undone: optional(r.Undone), Loads: loads,
	}
	if r.Plan != nil {
		out.Plan = *r.Plan
	}
	return out
}

// toldRelease is what the trail says of a release.
func toldRelease(r Release) any {
	return map[string]any{"plan": r.Plan, "until": r.Until, "loads": r.Loads}
}

// Unrelease undoes a release of which nothing has begun: the next plan is free
// to plan its work anew.
func (b *Books) Unrelease(ctx context.Context, id int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, loads, err := releaseOf(tx, id)
		if err != nil {
			return err
		}
		if row.Undone != nil {
			return conflict("release %d was undone already", id)
		}
		if err := refuseBegun(tx, id); err != nil {
			return err
		}
		if err := tx.Model(&releasedLoadRow{}).Where("release = ?", id).Update("undone", true).Error; err != nil {
			return err
		}
		if err := tx.Model(row).Update("undone", millis(tx)).Error; err != nil {
			return err
		}
		return trail(tx, kindRelease, strconv.FormatInt(id, 10), "undone", toldRelease(row.release(loads)), nil)
	}), "undo release")
}

// refuseBegun refuses to undo a release of which something has begun, or to
// which mandrels are issued.
func refuseBegun(tx *gorm.DB, id int64) error {
	var begun []string
	err := tx.Raw(`SELECT id FROM released_loads WHERE release = ? AND
		(in_at IS NOT NULL OR id IN (SELECT load FROM released_tasks WHERE begun IS NOT NULL)) ORDER BY rowid`, id).Scan(&begun).Error
	if err != nil {
		return err
	}
	if len(begun) > 0 {
		return conflict("load %s of release %d has begun, so that it cannot be undone", begun[0], id)
	}
	var out []struct {
		Load  string
		Count int
	}
	err = tx.Model(&mandrelRow{}).Select("load, count(*) AS count").
		Where("load IN (SELECT id FROM released_loads WHERE release = ?)", id).Group("load").Order("load").Scan(&out).Error
	if err == nil && len(out) > 0 {
		issued := make([]string, len(out))
		for i, o := range out {
			issued[i] = fmt.Sprintf("%d to load %s", o.Count, o.Load)
		}
		return conflict("mandrels are issued for release %d: %s; return them first", id, strings.Join(issued, ", "))
	}
	return err
}

func releaseOf(tx *gorm.DB, id int64) (*releaseRow, []string, error) {
	var row releaseRow
	if err := tx.Where("id = ?", id).Take(&row).Error; err != nil {
		if missing(err) {
			err = notFound(kindRelease, strconv.FormatInt(id, 10))
		}
		return nil, nil, err
	}
	var loads []string
	return &row, loads, tx.Model(&releasedLoadRow{}).Where("release = ?", id).Order("rowid").Pluck("id", &loads).Error
}

// OneRelease returns a release by its id.
func (b *Books) OneRelease(ctx context.Context, id int64) (Release, error) {
	var out Release
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, loads, err := releaseOf(tx, id)
		if err == nil {
			out = row.release(loads)
		}
		return err
	})
	return out, doing(err, "release")
}

// Releases returns releases with an id below before, 0 for all, the newest
// first.
func (b *Books) Releases(ctx context.Context, before int64, limit int) ([]Release, error) {
	var out []Release
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		out, err = releases(tx, before, limit)
		return err
	})
	return out, doing(err, "releases")
}

func releases(tx *gorm.DB, before int64, limit int) ([]Release, error) {
	pick := func(q *gorm.DB) *gorm.DB {
		if before > 0 {
			q = q.Where("id < ?", before)
		}
		return q.Order("id DESC").Limit(page(limit))
	}
	var rows []releaseRow
	if err := pick(tx).Find(&rows).Error; err != nil {
		return nil, err
	}
	var loads []releasedLoadRow
	ids := pick(tx.Model(&releaseRow{})).Select("id")
	if err := tx.Where("release IN (?)", ids).Order("rowid").Find(&loads).Error; err != nil {
		return nil, err
	}
	of := map[int64][]string{}
	for _, l := range loads {
		of[l.Release] = append(of[l.Release], l.ID)
	}
	out := make([]Release, len(rows))
	for i := range rows {
		out[i] = rows[i].release(of[rows[i].ID])
	}
	return out, nil
}

// ReleasedAs returns under which names a plan's loads are released, by the
// plan's own, as far as their releases stand: a plan names its loads anew, and a
// released load bears a name that none had before.
func (b *Books) ReleasedAs(ctx context.Context, planID int64) (map[string]string, error) {
	out := map[string]string{}
	err := b.read(ctx, func(tx *gorm.DB) error {
		var rows []struct{ ID, PlannedAs string }
		err := tx.Table("released_loads").Select("released_loads.id, planned_as").
			Joins("JOIN releases ON releases.id = release").Where("released_loads.undone = 0 AND plan = ?", planID).Scan(&rows).Error
		for _, row := range rows {
			out[row.PlannedAs] = row.ID
		}
		return err
	})
	return out, doing(err, "released loads of a plan")
}
