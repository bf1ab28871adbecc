package store

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// MandrelCounts are how many mandrels are where: In is in the crib, Out on
// loads, Held elsewhere in the shop or at the grinder's. All are all.
type MandrelCounts struct{ In, Out, Held, Scrapped, All int }

// MandrelCounts returns how many mandrels of each type are where, all types of
// the shop included.
func (b *Books) MandrelCounts(ctx context.Context) (map[string]MandrelCounts, error) {
	out := map[string]MandrelCounts{}
	err := b.read(ctx, func(tx *gorm.DB) error {
		types, err := mandrelTypes(tx)
		if err != nil {
			return err
		}
		for _, kind := range types {
			out[kind] = MandrelCounts{}
		}
		var rows []struct {
			Type, Place string
			Count       int
		}
		err = tx.Model(&mandrelRow{}).Select("type, place, count(*) AS count").Group("type, place").Scan(&rows).Error
		for _, r := range rows {
			counts := out[r.Type]
			counts.add(crib.Place(r.Place), r.Count)
			out[r.Type] = counts
		}
		return err
	})
	return out, doing(err, "mandrel counts")
}

// add counts so many mandrels at a place.
func (c *MandrelCounts) add(place crib.Place, count int) {
	c.All += count
	switch place {
	case crib.InCrib:
		c.In += count
	case crib.Issued:
		c.Out += count
	case crib.Scrapped:
		c.Scrapped += count
	default:
		c.Held += count
	}
}

// checkMandrels holds every mandrel to its own history: it is where its last
// move brought it, each move began where the one before had ended, and its
// cycles are what its moves counted.
func checkMandrels(tx *gorm.DB) error {
	rows, err := mandrelRows(tx)
	if err != nil {
		return err
	}
	var moves []mandrelMoveRow
	if err := tx.Order("id").Find(&moves).Error; err != nil {
		return err
	}
	state := map[string]*crib.Mandrel{}
	var wrong []error
	for _, m := range moves {
		at := state[m.Mandrel]
		if at == nil {
			at = &crib.Mandrel{}
			state[m.Mandrel] = at
		}
		if string(at.Place) != m.Origin {
			wrong = append(wrong, fmt.Errorf("mandrel %s went from %q, but was at %q", m.Mandrel, m.Origin, at.Place))
		}
		at.Place = crib.Place(m.Place)
		at.All += m.Cycles
	}
	var counts MandrelCounts
	for i := range rows {
		m := rows[i].mandrel()
		counts.add(m.Place, 1)
		if told := state[m.ID]; told == nil || told.Place != m.Place || told.All != m.All {
			wrong = append(wrong, fmt.Errorf("mandrel %s is at %q after %d cycles, which its history does not tell", m.ID, m.Place, m.All))
		}
	}
	if counts.In+counts.Out+counts.Held+counts.Scrapped != len(rows) {
		wrong = append(wrong, fmt.Errorf("%d mandrels are not where they are counted: %+v", len(rows), counts))
	}
	return errors.Join(wrong...)
}

// checkRolls holds every roll to its own history: what came is what is left
// and what was drawn, and its out-time is that of its trips.
func checkRolls(tx *gorm.DB) error {
	rows, err := rollRows(tx)
	if err != nil {
		return err
	}
	var moves []rollMoveRow
	if err := tx.Order("id").Find(&moves).Error; err != nil {
		return err
	}
	told := map[string]*toldOfRoll{}
	for _, m := range moves {
		if told[m.Roll] == nil {
			told[m.Roll] = &toldOfRoll{}
		}
		told[m.Roll].take(m)
	}
	var wrong []error
	for i := range rows {
		if t := told[rows[i].ID]; t == nil || !t.agrees(rows[i].roll()) {
			wrong = append(wrong, fmt.Errorf("roll %s has %g m² left and out-time %d ms, which its history does not tell",
				rows[i].ID, rows[i].LeftM2, rows[i].Used))
		}
	}
	return errors.Join(wrong...)
}

// toldOfRoll is what a roll's history adds up to.
type toldOfRoll struct {
	left           float64
	used           time.Duration
	moved          int64  // the last of its moves
	since, emptied *int64 // it was taken out, or used up, then
}

func (t *toldOfRoll) take(m rollMoveRow) {
	t.moved = max(t.moved, m.At)
	switch m.Move {
	case entered:
		t.left, t.used = m.M2, time.Duration(m.Used)*time.Millisecond
	case string(crib.Draw):
		t.left -= m.M2
	case corrected:
		t.left += m.M2
	case givenBack:
		t.left += m.M2
		if t.emptied != nil {
			t.since, t.emptied = t.emptied, nil
		}
	case string(crib.TakeOut):
		t.since = &m.At
	}
	gone := crib.RollPlace(m.Place) == crib.Gone
	if gone && m.Move == string(crib.Draw) {
		t.emptied = new(t.moved)
	}
	if (gone || m.Move == string(crib.PutIn)) && t.since != nil {
		t.used += time.Duration(max(0, m.At-*t.since)) * time.Millisecond
		t.since = nil
	}
}

// agrees reports whether a roll is as its history tells, but for what sums of
// decimals lose.
func (t *toldOfRoll) agrees(r crib.Roll) bool {
	const lost = 1e-4
	used := t.used
	if t.since != nil {
		used += time.Duration(t.moved-*t.since) * time.Millisecond
	}
	return math.Abs(t.left-r.Left) < lost && used == r.OutTime(instant(t.moved)) && (t.since == nil) == r.Frozen()
}
