package store

import (
	"context"
	"errors"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// The kinds under which the books keep mandrels and what they are of.
const (
	kindMandrel     = "mandrel"
	kindMandrelType = "mandrel_type"
)

// batch is how many rows are written at once where there are many.
const batch = 200

// A Mandrel is one tool, with what is due of it and where it can go from where
// it is.
type Mandrel struct {
	crib.Mandrel
	Moved time.Time // when its last move was
	Dues  []crib.Due
	Moves []crib.Move // those that are possible
	Rev   int64
}

type mandrelRow struct {
	ID              string `gorm:"primaryKey"`
	Position        int64
	Kind            string
	Type            string
	Place           string
	Load            string
	Back            *int64
	Stated          string
	Cycles          int
	SinceRecoat     int
	SinceInspection int
	Moved           int64
	Rev             int64
}

func (mandrelRow) TableName() string { return "mandrels" }

// newMandrelRow returns the row of a mandrel that nobody has moved.
func newMandrelRow(m crib.Mandrel, position int64, moved time.Time) mandrelRow {
	r := mandrelRow{ID: m.ID, Position: position, Kind: kindMandrelType, Moved: moved.UnixMilli(), Rev: 1}
	r.set(m)
	return r
}

// set takes over how a mandrel stands.
func (r *mandrelRow) set(m crib.Mandrel) {
	r.Type, r.Place, r.Load, r.Back = m.Type, string(m.Place), m.Load, optionalMillis(m.Back)
	r.Cycles, r.SinceRecoat, r.SinceInspection = m.All, m.SinceRecoat, m.SinceInspection
}

func (r *mandrelRow) mandrel() crib.Mandrel {
	return crib.Mandrel{
		ID: r.ID, Type: r.Type, Place: crib.Place(r.Place), Load: r.Load, Back: optionalInstant(r.Back),
		Cycles: crib.Cycles{All: r.Cycles, SinceRecoat: r.SinceRecoat, SinceInspection: r.SinceInspection},
	}
}

func (r *mandrelRow) record(limits map[string]crib.Limits) Mandrel {
	m := r.mandrel()
	return Mandrel{
		Mandrel: m, Moved: instant(r.Moved), Rev: r.Rev,
		Dues: m.Due(limits[m.Type]), Moves: m.Possible(limits[m.Type]),
	}
}

// optionalMillis is how the books hold an instant that may be none.
func optionalMillis(at time.Time) *int64 {
	if at.IsZero() {
		return nil
	}
	millis := at.UnixMilli()
	return &millis
}

func optionalInstant(millis *int64) time.Time {
	if millis == nil {
		return time.Time{}
	}
	return instant(*millis)
}

// A MandrelFilter asks for some mandrels. What is empty asks for any.
type MandrelFilter struct {
	Type  string
	Place crib.Place
	Load  string // those issued to it
	Due   bool   // only those that are due for something
	After string // ids that come after this one: the next page
	Limit int    // 0 is MaxPage
}

// Mandrels returns mandrels by id.
func (b *Books) Mandrels(ctx context.Context, f MandrelFilter) ([]Mandrel, error) {
	var out []Mandrel
	err := b.read(ctx, func(tx *gorm.DB) error {
		limits, err := limitsByType(tx)
		if err != nil {
			return err
		}
		var rows []mandrelRow
		if err := f.apply(tx).Order("id").Limit(page(f.Limit)).Find(&rows).Error; err != nil {
			return err
		}
		for i := range rows {
			out = append(out, rows[i].record(limits))
		}
		return nil
	})
	return out, doing(err, "mandrels")
}

func (f MandrelFilter) apply(tx *gorm.DB) *gorm.DB {
	if f.Type != "" {
		tx = tx.Where("type = ?", f.Type)
	}
	if f.Place != "" {
		tx = tx.Where("place = ?", f.Place)
	}
	if f.Load != "" {
		tx = tx.Where("load = ?", f.Load)
	}
	if f.After != "" {
		tx = tx.Where("id > ?", f.After)
	}
	if f.Due {
		tx = tx.Where(`place <> ? AND EXISTS (SELECT 1 FROM mandrel_limits AS l WHERE l.type = mandrels.type AND
			(l.recoat > 0 AND since_recoat >= l.recoat OR l.inspection > 0 AND since_inspection >= l.inspection))`, crib.Scrapped)
	}
	return tx
}

// Mandrel returns one mandrel.
func (b *Books) Mandrel(ctx context.Context, id string) (Mandrel, error) {
	var out Mandrel
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, err := mandrelRowOf(tx, id)
		if err != nil {
			return err
		}
		limits, err := limitsByType(tx)
		out = row.record(limits)
		return err
	})
	return out, doing(err, "mandrel")
}

func mandrelRowOf(tx *gorm.DB, id string) (*mandrelRow, error) {
	var row mandrelRow
	err := tx.Where("id = ?", id).Take(&row).Error
	if missing(err) {
		return nil, notFound("mandrel", id)
	}
	return &row, err
}

// mandrelRows returns all mandrels in the shop file's order.
func mandrelRows(tx *gorm.DB) ([]mandrelRow, error) {
	var rows []mandrelRow
	return rows, tx.Order("position").Find(&rows).Error
}

// allMandrels returns all mandrels as they stand, in the shop file's order.
func allMandrels(tx *gorm.DB) ([]crib.Mandrel, error) {
	rows, err := mandrelRows(tx)
	out := make([]crib.Mandrel, len(rows))
	for i := range rows {
		out[i] = rows[i].mandrel()
	}
	return out, err
}

// A NewMandrel is a mandrel that enters the books, with the cycles that it has
// seen before. Without a place it is in the crib.
type NewMandrel struct {
	ID     string
	Type   string
	Place  crib.Place
	Cycles crib.Cycles
	Remark string
}

// AddMandrel enters a mandrel.
func (b *Books) AddMandrel(ctx context.Context, m NewMandrel) (Mandrel, error) {
	return once(ctx, b, "add mandrel", m, func(tx *gorm.DB) (Mandrel, error) {
		if m.Place == "" {
			m.Place = crib.InCrib
		}
		if err := m.check(tx); err != nil {
			return Mandrel{}, err
		}
		position, err := nextPosition(tx, "mandrels")
		if err != nil {
			return Mandrel{}, err
		}
		row := newMandrelRow(crib.Mandrel{ID: m.ID, Type: m.Type, Place: m.Place, Cycles: m.Cycles}, position, now(tx))
		if err := enterMandrels(tx, []mandrelRow{row}, m.Remark); err != nil {
			return Mandrel{}, err
		}
		limits, err := limitsByType(tx)
		return row.record(limits), errors.Join(err, trail(tx, kindMandrel, row.ID, entered, nil, row.told()))
	})
}

func (m NewMandrel) check(tx *gorm.DB) error {
	var found findings
	err := errors.Join(
		found.newID(tx, "mandrels", m.ID),
		found.refersTo(tx, "type", kindMandrelType, "mandrel type", m.Type),
	)
	if err != nil {
		return err
	}
	switch {
	case m.Place == crib.Issued, m.Place == crib.Scrapped:
		found.say("place", "is %s, but a mandrel enters the books where it can be used or mended", m.Place)
	case !m.Place.Known():
		found.say("place", "%q is no place; the places are %s", m.Place, choice(crib.Places()))
	}
	found.cycles(m.Cycles)
	found.text("remark", m.Remark, lineLength)
	return found.err()
}

// cycles reports counts that cannot be.
func (f *findings) cycles(c crib.Cycles) {
	if f.count("cycles", c.All, 0); c.All < 0 {
		return
	}
	since := func(path string, cycles int) {
		if cycles < 0 || cycles > c.All {
			f.say(path, "is %d, but must be from 0 to %d, the cycles in all", cycles, c.All)
		}
	}
	since("since_recoat", c.SinceRecoat)
	since("since_inspection", c.SinceInspection)
}

// enterMandrels writes new mandrels, each with its first move.
func enterMandrels(tx *gorm.DB, rows []mandrelRow, remark string) error {
	moves := make([]mandrelMoveRow, len(rows))
	for i := range rows {
		move := mandrelMoveRow{At: rows[i].Moved, Move: entered, Remark: remark}
		moves[i] = move.between(tx, crib.Mandrel{}, rows[i].mandrel())
	}
	return errors.Join(tx.CreateInBatches(rows, batch).Error, tx.CreateInBatches(moves, batch).Error)
}

// toldMandrel is how the trail shows a mandrel.
type toldMandrel struct {
	Type            string     `json:"type"`
	Place           crib.Place `json:"place"`
	Load            string     `json:"load,omitempty"`
	Back            *time.Time `json:"back,omitempty"`
	Cycles          int        `json:"cycles"`
	SinceRecoat     int        `json:"since_recoat"`
	SinceInspection int        `json:"since_inspection"`
}

func (r *mandrelRow) told() toldMandrel {
	m := r.mandrel()
	out := toldMandrel{
		Type: m.Type, Place: m.Place, Load: m.Load,
		Cycles: m.All, SinceRecoat: m.SinceRecoat, SinceInspection: m.SinceInspection,
	}
	if !m.Back.IsZero() {
		out.Back = &m.Back
	}
	return out
}
