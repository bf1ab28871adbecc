package store

import (
	"slices"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A drawn is what a cut task drew: from which rolls, until when all of it is
// good, and what the books' rolls did not have.
type drawn struct {
	takes   []crib.Take
	good    time.Time // zero where nothing was drawn
	lacking float64   // m²
}

// drawPrepreg takes an area of a prepreg from its rolls because it was cut: of
// those that lie out the first to expire, and so on as crib.TakeFrom says. One
// that the books had in the freezer is booked out: its out-time counts, or it
// would seem good for longer than it is. A prepreg without any roll is
// unlimited, and lacks nothing.
func drawPrepreg(tx *gorm.DB, prepreg string, m2 float64, at time.Time, why string) (drawn, error) {
	var rows []rollRow
	if err := tx.Where("prepreg = ?", prepreg).Order("position").Find(&rows).Error; err != nil || len(rows) == 0 {
		return drawn{}, err
	}
	rolls := make([]crib.Roll, len(rows))
	for i := range rows {
		rolls[i] = rows[i].roll()
	}
	var out drawn
	out.takes, out.lacking = crib.TakeFrom(rolls, prepreg, m2, at)
	for _, take := range out.takes {
		i := slices.IndexFunc(rolls, func(r crib.Roll) bool { return r.ID == take.Roll })
		good, err := rows[i].cut(tx, take, at, why)
		if err != nil {
			return out, doing(err, "draw %s", prepreg)
		}
		if out.good.IsZero() || good.Before(out.good) {
			out.good = good
		}
	}
	return out, nil
}

// cut takes from a roll that was cut from, and returns until when it is good.
func (r *rollRow) cut(tx *gorm.DB, take crib.Take, at time.Time, why string) (time.Time, error) {
	roll := r.roll()
	if roll.Frozen() {
		roll = roll.CutFrom(at, instant(r.Moved))
		out := rollMoveRow{At: roll.OutSince.UnixMilli(), Move: string(crib.TakeOut), Remark: why}
		if err := r.book(tx, roll, out); err != nil {
			return time.Time{}, err
		}
	}
	move := rollMoveRow{At: at.UnixMilli(), Move: string(crib.Draw), M2: take.M2, Remark: why}
	return roll.Expires(), r.book(tx, roll.Taken(take.M2, at), move)
}

// givenBack is the move that takes a draw back.
const givenBack = "given back"

// undrawPrepreg gives a roll back what was drawn from it and never cut. A roll
// that it had used up is out again, and has been all the while.
func undrawPrepreg(tx *gorm.DB, roll string, m2 float64, at time.Time, why string) error {
	row, err := rollRowOf(tx, roll)
	if err != nil {
		return err
	}
	after := row.roll().GivenBack(m2, instant(row.Moved))
	move := rollMoveRow{At: at.UnixMilli(), Move: givenBack, M2: m2, Remark: why}
	return doing(row.book(tx, after, move), "give back to %s", roll)
}
