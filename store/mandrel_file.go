package store

import (
	"fmt"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store/crib"
)

// fromFile remarks on what a shop file brought into the books.
const fromFile = "from a shop file"

// loadMandrels adds the mandrels to a shop, as they stand now.
func loadMandrels(tx *gorm.DB, s *shop.Shop) (err error) {
	s.Mandrels, err = mandrelsAt(tx, now(tx))
	return err
}

// saveMandrels writes the mandrels of a file into books that have none. What
// the file says of each is kept as it stands until somebody moves it. The file
// does not say which of them the released work has: the first that are ready
// are taken for those.
func saveMandrels(tx *gorm.DB, s *shop.Shop) error {
	onLoads := loadsOf(s)
	rows := make([]mandrelRow, len(s.Mandrels))
	for i, m := range s.Mandrels {
		later := m.ReadyAt != nil && m.ReadyAt.Minute > s.Now.Minute
		state := crib.Mandrel{ID: m.ID, Type: m.Type, Place: crib.PlaceOf(m.State, later)}
		if later && m.State == shop.Ready {
			state.Back = instantOf(*m.ReadyAt)
		}
		if loads := onLoads[m.Type]; state.Place == crib.InCrib && m.State == shop.Ready && len(loads) > 0 {
			state.Place, state.Load, onLoads[m.Type] = crib.Issued, loads[0], loads[1:]
		}
		rows[i] = newMandrelRow(state, int64(i+1), now(tx))
		rows[i].Stated = string(strict.Encode(m))
	}
	return enterMandrels(tx, rows, fromFile)
}

// loadsOf returns, by mandrel type, the load of each mandrel that the released
// work of a file has out at its now.
func loadsOf(s *shop.Shop) map[string][]string {
	out := map[string][]string{}
	if s.Released == nil {
		return out
	}
	at := instantOf(s.Now)
	for _, need := range crib.Needs(s, s.Released.Tasks) {
		for range need.Pieces {
			if need.Holds(at) {
				out[need.Type] = append(out[need.Type], need.Load)
			}
		}
	}
	return out
}

func instantOf(i shop.Instant) time.Time { return i.Time().UTC() }

// minuteFrom returns the first whole minute not before an instant, in a zone.
func minuteFrom(at time.Time, zone *time.Location) shop.Instant {
	return shop.InstantOf(at.Add(time.Minute - 1).In(zone))
}

// mandrelsAt returns the mandrels as a shop file states them at an instant,
// all of them valid rows: those out on loads of the books are ready, for the
// released work says when they are back; those that are known to come back are
// ready from then on; what else is not in the crib, or due, has its place for
// its state, which keeps it out of plans.
func mandrelsAt(tx *gorm.DB, at time.Time) ([]shop.Mandrel, error) {
	rows, err := mandrelRows(tx)
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	limits, err := limitsByType(tx)
	if err != nil {
		return nil, err
	}
	zone, err := zoneOf(tx)
	if err != nil {
		return nil, err
	}
	asStated, err := statedMandrels(rows)
	out := make([]shop.Mandrel, len(rows))
	for i := range rows {
		if m, ok := asStated[rows[i].ID]; ok {
			out[i] = m
		} else {
			out[i] = rows[i].at(limits, at.In(zone))
		}
	}
	return out, err
}

// statedMandrels returns those mandrels, by id, that are still as a shop file
// stated them.
func statedMandrels(rows []mandrelRow) (map[string]shop.Mandrel, error) {
	var texts []string
	for i := range rows {
		if rows[i].Stated != "" {
			texts = append(texts, rows[i].Stated)
		}
	}
	all, err := decodeAll[shop.Mandrel](texts)
	out := map[string]shop.Mandrel{}
	for _, m := range all {
		out[m.ID] = m
	}
	return out, doing(err, "mandrels as stated")
}

// at returns a mandrel as a shop file states it at an instant in the shop's
// zone.
func (r *mandrelRow) at(limits map[string]crib.Limits, at time.Time) shop.Mandrel {
	m := r.mandrel()
	word, back := m.WordOf(limits[m.Type])
	out := shop.Mandrel{ID: m.ID, Type: m.Type, State: word}
	if back && m.Back.After(at) {
		ready := minuteFrom(m.Back, at.Location())
		out.ReadyAt = &ready
	}
	return out
}

// zoneOf returns the shop's time zone.
func zoneOf(tx *gorm.DB) (*time.Location, error) {
	r, err := takeThing(tx, "settings", "settings")
	if err != nil {
		return nil, err
	}
	said, err := decode[Settings]([]byte(r.Body))
	if err != nil {
		return nil, err
	}
	zone, err := time.LoadLocation(said.Timezone)
	if err != nil {
		return nil, fmt.Errorf("time zone: %w", err)
	}
	return zone, nil
}
