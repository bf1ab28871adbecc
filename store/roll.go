package store

import (
	"context"
	"errors"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
	"blankwright/store/crib"
)

// The kinds under which the books keep rolls and what they are of.
const (
	kindRoll    = "roll"
	kindPrepreg = "prepreg"
)

// A Roll is one roll of prepreg, as it is at the instant of the answer.
type Roll struct {
	crib.Roll
	At      time.Time
	Where   crib.RollPlace
	Why     string        // it is held; empty where it is not
	OutFor  time.Duration // the out-time used
	GoodTil time.Time     // by shelf life, and while it is out by out-time
	Moves   []crib.RollMove
	Moved   time.Time // when its last move was
	Rev     int64
}

type rollRow struct {
	ID           string `gorm:"primaryKey"`
	Position     int64
	Kind         string
	Prepreg      string
	Lot          string
	ReceivedM2   float64 `gorm:"column:received_m2"`
	LeftM2       float64 `gorm:"column:left_m2"`
	Here         int64
	Shelf        int64
	LimitMinutes int64
	ThawMinutes  int64
	Used         int64
	OutSince     *int64
	Hold         string
	Gone         bool
	Stated       string
	Moved        int64
	Rev          int64
}

func (rollRow) TableName() string { return "rolls" }

// newRollRow returns the row of a roll that nobody has moved.
func newRollRow(r crib.Roll, position int64, moved time.Time) rollRow {
	row := rollRow{ID: r.ID, Position: position, Kind: kindPrepreg, Moved: moved.UnixMilli(), Rev: 1}
	row.set(r)
	return row
}

// set takes over how a roll stands.
func (r *rollRow) set(c crib.Roll) {
	r.Prepreg, r.Lot, r.ReceivedM2, r.LeftM2 = c.Prepreg, c.Lot, c.Received, c.Left
	r.Here, r.Shelf = c.From.UnixMilli(), c.Shelf.UnixMilli()
	r.LimitMinutes, r.ThawMinutes = int64(c.Limit/time.Minute), int64(c.Thaw/time.Minute)
	r.Used, r.OutSince, r.Hold, r.Gone = c.Used.Milliseconds(), optionalMillis(c.OutSince), c.Hold, c.Gone
}

func (r *rollRow) roll() crib.Roll {
	return crib.Roll{
		ID: r.ID, Prepreg: r.Prepreg, Lot: r.Lot, Received: r.ReceivedM2, Left: r.LeftM2,
		From: instant(r.Here), Shelf: instant(r.Shelf),
		Limit: time.Duration(r.LimitMinutes) * time.Minute, Thaw: time.Duration(r.ThawMinutes) * time.Minute,
		Used: time.Duration(r.Used) * time.Millisecond, OutSince: optionalInstant(r.OutSince), Hold: r.Hold, Gone: r.Gone,
	}
}

func (r *rollRow) record(at time.Time) Roll {
	c := r.roll()
	return Roll{
		Roll: c, At: at, Where: c.Place(at), Why: c.Why(at), OutFor: c.OutTime(at), GoodTil: c.Expires(),
		Moves: c.Possible(at), Moved: instant(r.Moved), Rev: r.Rev,
	}
}

// A RollFilter asks for some rolls. What is empty asks for any.
type RollFilter struct {
	Prepreg string
	Place   crib.RollPlace // where they are now; those that are gone only if asked for
	After   string         // ids that come after this one: the next page
	Limit   int            // 0 is MaxPage
}

// Rolls returns rolls by id, without those that are gone.
func (b *Books) Rolls(ctx context.Context, f RollFilter) ([]Roll, error) {
	var out []Roll
	err := b.read(ctx, func(tx *gorm.DB) error {
		query := tx.Where("gone = ? AND id > ?", f.Place == crib.Gone, f.After)
		if f.Prepreg != "" {
			query = query.Where("prepreg = ?", f.Prepreg)
		}
		var rows []rollRow
		if err := query.Order("id").Find(&rows).Error; err != nil {
			return err
		}
		for i := range rows { // where a roll is hangs on the clock
			if r := rows[i].record(now(tx)); f.Place == "" || r.Where == f.Place {
				out = append(out, r)
			}
		}
		return nil
	})
	return out[:min(len(out), page(f.Limit))], doing(err, "rolls")
}

// Roll returns one roll.
func (b *Books) Roll(ctx context.Context, id string) (Roll, error) {
	var out Roll
	err := b.read(ctx, func(tx *gorm.DB) error {
		row, err := rollRowOf(tx, id)
		if err == nil {
			out = row.record(now(tx))
		}
		return err
	})
	return out, doing(err, "roll")
}

func rollRowOf(tx *gorm.DB, id string) (*rollRow, error) {
	var row rollRow
	err := tx.Where("id = ?", id).Take(&row).Error
	if missing(err) {
		return nil, notFound(kindRoll, id)
	}
	return &row, err
}

// rollRows returns all rolls in the shop file's order.
func rollRows(tx *gorm.DB) ([]rollRow, error) {
	var rows []rollRow
	return rows, tx.Order("position").Find(&rows).Error
}

// A NewRoll is a roll that enters the books, or is expected.
type NewRoll struct {
	ID      string
	Prepreg string
	Lot     string
	M2      float64
	From    time.Time // zero is now
	Shelf   time.Time
	Limit   time.Duration // of out-time, in whole minutes; 0 states none
	Thaw    time.Duration // in whole minutes
	Used    time.Duration // the out-time that it comes with
}

// AddRoll enters a roll, frozen.
func (b *Books) AddRoll(ctx context.Context, r NewRoll) (Roll, error) {
	return once(ctx, b, "add roll", r, func(tx *gorm.DB) (Roll, error) {
		if r.From.IsZero() {
			r.From = now(tx)
		}
		if err := r.check(tx); err != nil {
			return Roll{}, err
		}
		position, err := nextPosition(tx, "rolls")
		if err != nil {
			return Roll{}, err
		}
		row := newRollRow(crib.Roll{
			ID: r.ID, Prepreg: r.Prepreg, Lot: r.Lot, Received: r.M2, Left: r.M2,
			From: r.From, Shelf: r.Shelf, Limit: r.Limit, Thaw: r.Thaw, Used: r.Used,
		}, position, now(tx))
		return row.record(now(tx)), errors.Join(
			enterRolls(tx, []rollRow{row}, ""),
			trail(tx, kindRoll, row.ID, entered, nil, row.told()),
		)
	})
}

func (r NewRoll) check(tx *gorm.DB) error {
	var found findings
	err := errors.Join(
		found.newID(tx, "rolls", r.ID),
		found.refersTo(tx, "prepreg", kindPrepreg, kindPrepreg, r.Prepreg),
	)
	if err != nil {
		return err
	}
	if !(r.M2 > 0 && r.M2 <= strict.Most) { // so written, it refuses what is no number
		found.say("m2", "is %g, but must be above 0 and at most %d", r.M2, strict.Most)
	}
	found.text("lot", r.Lot, idLength)
	found.take(crib.LimitProblems("used_minutes", r.Used))
	found.lives(r.From, r.Shelf, r.Limit, r.Thaw)
	return found.err()
}

// lives reports what is wrong with how long a roll lasts.
func (f *findings) lives(from, shelf time.Time, limit, thaw time.Duration) {
	wrong := append(crib.InstantProblems("from", from), crib.InstantProblems("expires", shelf)...)
	if len(wrong) == 0 && !shelf.After(from) {
		f.say("expires", "%s is not after the roll came, at %s", clock(shelf), clock(from))
	}
	f.take(wrong)
	f.take(crib.LimitProblems("out_time_minutes", limit))
	f.take(crib.LimitProblems("thaw_minutes", thaw))
}

// enterRolls writes new rolls, each with its first move.
func enterRolls(tx *gorm.DB, rows []rollRow, remark string) error {
	moves := make([]rollMoveRow, len(rows))
	for i := range rows {
		move := rollMoveRow{At: rows[i].Moved, Move: entered, M2: rows[i].ReceivedM2, Used: rows[i].Used, Remark: remark}
		moves[i] = move.of(tx, &rows[i])
	}
	return errors.Join(tx.CreateInBatches(rows, batch).Error, tx.CreateInBatches(moves, batch).Error)
}

// toldRoll is how the trail shows a roll.
type toldRoll struct {
	Prepreg  string     `json:"prepreg"`
	Lot      string     `json:"lot"`
	M2       float64    `json:"m2"`
	From     time.Time  `json:"from"`
	Shelf    time.Time  `json:"shelf"`
	Limit    int64      `json:"out_time_minutes"`
	Thaw     int64      `json:"thaw_minutes"`
	Used     int64      `json:"used_minutes"`
	OutSince *time.Time `json:"out_since,omitempty"`
	Hold     string     `json:"hold,omitempty"`
	Gone     bool       `json:"gone,omitempty"`
}

func (r *rollRow) told() toldRoll {
	out := toldRoll{
		Prepreg: r.Prepreg, Lot: r.Lot, M2: r.LeftM2, From: instant(r.Here), Shelf: instant(r.Shelf),
		Limit: r.LimitMinutes, Thaw: r.ThawMinutes, Used: r.Used / time.Minute.Milliseconds(), Hold: r.Hold, Gone: r.Gone,
	}
	if r.OutSince != nil {
		since := instant(*r.OutSince)
		out.OutSince = &since
	}
	return out
}
