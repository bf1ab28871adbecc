package store

import (
	"slices"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
)

// lookBack is how long finished loads are still looked at: for longer than
// mandrels are cleaned.
const lookBack = 7 * 24 * time.Hour

// A floor is all released work that a shop at its now still has to do with, and
// where it stands.
type floor struct {
	releasedWork
	standing *carry.Standing
	waits    []Trouble // what nothing carries on
}

// floorOf returns the floor of a shop, which is there with all but its released
// work.
func floorOf(tx *gorm.DB, s *shop.Shop) (*floor, error) { return floorWith(tx, s, "") }

// floorWith is floorOf, with a load that may have been finished long before.
func floorWith(tx *gorm.DB, s *shop.Shop, load string) (*floor, error) {
	since := s.Now.Time().Add(-lookBack).UnixMilli()
	work, err := releasedWorkOf(tx, func(q *gorm.DB) *gorm.DB {
		return q.Where("finished IS NULL OR finished > ? OR id = ?", since, load)
	})
	if err != nil {
		return nil, err
	}
	left, err := leftSetups(tx, s, since)
	if err != nil {
		return nil, err
	}
	carried, err := work.carried()
	if err != nil {
		return nil, err
	}
	with := *s
	with.Stations = left
	return &floor{work, carry.On(&with, carried), work.waiting(carried)}, nil
}

// leftSetups returns a shop's stations with the set-ups that loads left which
// were finished by an instant.
func leftSetups(tx *gorm.DB, s *shop.Shop, finished int64) (shop.Stations, error) {
	// SQLite takes the other columns from the row that has the maximum.
	var rows []struct {
		Stage, Prepreg, Section string
		Position                int
		Begun                   int64
	}
	err := tx.Raw(`SELECT stage, position, prepreg, section, max(begun) AS begun FROM released_tasks
		WHERE begun IS NOT NULL AND stage IN ('cut', 'tack', 'wrap')
		AND load IN (SELECT id FROM released_loads WHERE undone = 0 AND finished <= ?)
		GROUP BY stage, position`, finished).Scan(&rows).Error
	out := s.Stations
	for _, row := range rows {
		task := releasedTaskRow{Stage: row.Stage, Prepreg: row.Prepreg, Section: row.Section}
		st := out.At(task.stage())
		if key := task.key(s); key != "" && row.Position <= st.Positions {
			st.LastSetup = slices.Clone(st.LastSetup)
			for len(st.LastSetup) < row.Position {
				st.LastSetup = append(st.LastSetup, nil)
			}
			st.LastSetup[row.Position-1] = &key
		}
	}
	return out, err
}

// key returns what a task's position is set up for.
func (r *releasedTaskRow) key(s *shop.Shop) string {
	_, section := sectionOf(s, r.Section)
	switch stage := r.stage(); {
	case stage == shop.Cut:
		return r.Prepreg
	case section == nil:
		return ""
	case stage == shop.Tack:
		return section.Mandrel
	}
	return section.Tape
}

// sectionOf returns a section and its product, nil where the shop has none.
func sectionOf(s *shop.Shop, id string) (*shop.Product, *shop.Section) {
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			if section := &s.Products[i].Sections[k]; section.ID == id {
				return &s.Products[i], section
			}
		}
	}
	return nil, nil
}
