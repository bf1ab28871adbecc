package store

import (
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store/crib"
)

// loadSupply adds the rolls to a shop, as they are now.
func loadSupply(tx *gorm.DB, s *shop.Shop) (err error) {
	s.Supply, err = supplyAt(tx, now(tx))
	return err
}

// saveSupply writes the supply of a file as rolls into books that have none.
// What the file says of each is kept as it stands until something happens to
// it: of out-time and thaw it says nothing.
func saveSupply(tx *gorm.DB, s *shop.Shop) error {
	rows := make([]rollRow, len(s.Supply))
	for i, supply := range s.Supply {
		rows[i] = newRollRow(crib.Roll{
			ID: supply.ID, Prepreg: supply.Prepreg, Received: supply.M2, Left: supply.M2,
			From: instantOf(supply.From), Shelf: instantOf(supply.Expires),
		}, int64(i+1), now(tx))
		rows[i].Stated = string(strict.Encode(supply))
	}
	return enterRolls(tx, rows, fromFile)
}

// supplyAt returns the rolls as a shop file states them at an instant: those
// that are neither gone nor held by order, each with what is left, from when
// it is thawed, until when it is good. A prepreg all of whose rolls are gone or
// held keeps one row of nothing: without any it would be unlimited.
func supplyAt(tx *gorm.DB, at time.Time) ([]shop.Supply, error) {
	rows, err := rollRows(tx)
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	zone, err := zoneOf(tx)
	if err != nil {
		return nil, err
	}
	stands := standingFor(rows)
	var out []shop.Supply
	for i := range rows {
		if stands[rows[i].Prepreg] != i && !rows[i].usable() {
			continue
		}
		supply, err := rows[i].stated(at.In(zone))
		if err != nil {
			return nil, err
		}
		if !rows[i].usable() {
			supply.M2 = 0
		}
		out = append(out, supply)
	}
	return out, nil
}

func (r *rollRow) usable() bool { return !r.Gone && r.Hold == "" }

// standingFor returns the row that stands for each prepreg: of those to use the
// last, and where there is none, of all.
func standingFor(rows []rollRow) map[string]int {
	out := map[string]int{}
	for i := range rows {
		if before, any := out[rows[i].Prepreg]; !any || rows[i].usable() || !rows[before].usable() {
			out[rows[i].Prepreg] = i
		}
	}
	return out
}

// stated returns a roll as a shop file states it at an instant in the shop's
// zone.
func (r *rollRow) stated(at time.Time) (shop.Supply, error) {
	if r.Stated != "" {
		supply, err := decode[shop.Supply]([]byte(r.Stated))
		return supply, doing(err, "roll %q", r.ID)
	}
	roll := r.roll()
	return shop.Supply{
		ID: roll.ID, Prepreg: roll.Prepreg, M2: roll.Left,
		From: minuteFrom(roll.Opens(at), at.Location()), Expires: shop.InstantOf(roll.Expires().In(at.Location())),
	}, nil
}
