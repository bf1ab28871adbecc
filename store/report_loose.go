package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// Why loose pieces move.
const (
	looseTrimmed   = "trimmed"   // a task made them
	looseCorrected = "corrected" // a report of such a task was
	looseCame      = "came"      // from work that is not in the books
	looseSet       = "set"       // they became part of a set in stock
	looseParted    = "parted"    // a set became pieces again
)

type pieceRow struct {
	ID      int64 `gorm:"primaryKey"`
	Section string
	Pieces  int
	Why     string
	Task    *int64
	At      int64
	Actor   string
}

func (pieceRow) TableName() string { return "piece_moves" }

// Loose is good pieces of a section that make no set yet.
type Loose struct {
	Section string
	Pieces  int
}

// Loose returns the sections of which there are loose pieces, by id.
func (b *Books) Loose(ctx context.Context) ([]Loose, error) {
	var out []Loose
	err := b.read(ctx, func(tx *gorm.DB) error {
		there, err := looseBySection(tx)
		for section, n := range there {
			if n != 0 {
				out = append(out, Loose{section, n})
			}
		}
		slices.SortFunc(out, func(a, b Loose) int { return strings.Compare(a.Section, b.Section) })
		return err
	})
	return out, doing(err, "loose pieces")
}

// looseBySection sums up the moves.
func looseBySection(tx *gorm.DB) (map[string]int, error) {
	var rows []Loose
	err := tx.Model(&pieceRow{}).Select("section, sum(pieces) AS pieces").Group("section").Scan(&rows).Error
	out := map[string]int{}
	for _, r := range rows {
		out[r.Section] = r.Pieces
	}
	return out, err
}

// moveLoose writes a move of loose pieces.
func moveLoose(tx *gorm.DB, section string, pieces int, why string, task *int64) error {
	if pieces == 0 {
		return nil
	}
	row := pieceRow{Section: section, Pieces: pieces, Why: why, Task: task, At: millis(tx), Actor: actor(tx.Statement.Context)}
	return errors.Join(tx.Create(&row).Error,
		trail(tx, "section", section, why, nil, map[string]any{"pieces": pieces}))
}

// trimmed has so many more good pieces of a trim task there, or fewer, and
// makes sets of them as far as that goes.
func trimmed(tx *gorm.DB, t *releasedTaskRow, more int) error {
	s, err := catalog(tx)
	if err != nil {
		return err
	}
	product, _ := sectionOf(s, t.Section)
	if product == nil {
		return conflict("no product has section %q any more", t.Section)
	}
	if err := arrive(tx, s, product); err != nil {
		return err
	}
	why := looseTrimmed
	if more < 0 {
		why = looseCorrected
		if err := part(tx, product, t.Section, -more); err != nil {
			return err
		}
	}
	return errors.Join(
		moveLoose(tx, t.Section, more, why, &t.ID),
		assembleSets(tx, product, fmt.Sprintf("task %d of load %s", t.ID, t.Load)),
	)
}

// arrive turns what was expected of a product's sections by now into loose
// pieces: the file that the books began with had them as incoming.
func arrive(tx *gorm.DB, s *shop.Shop, product *shop.Product) error {
	k, err := kindNamed("incoming")
	if err != nil {
		return err
	}
	rows, err := thingRows(tx, k)
	if err != nil {
		return err
	}
	for i := range rows {
		in, err := decode[shop.Incoming]([]byte(rows[i].Body))
		if err != nil {
			return err
		}
		own := func(section shop.Section) bool { return section.ID == in.Section }
		if in.At.Minute > s.Now.Minute || !slices.ContainsFunc(product.Sections, own) {
			continue
		}
		err = errors.Join(
			tx.Delete(&rows[i]).Error,
			trail(tx, k.name, rows[i].ID, "came", bodyOf(rows[i]), nil),
			moveLoose(tx, in.Section, in.Pieces, looseCame, nil),
		)
		if err != nil {
			return err
		}
	}
	return nil
}

// part takes sets apart until so many pieces of a section are loose.
func part(tx *gorm.DB, product *shop.Product, section string, pieces int) error {
	there, err := looseBySection(tx)
	if err != nil {
		return err
	}
	sets := pieces - there[section]
	if sets <= 0 {
		return nil
	}
	if _, err := moveStock(tx, product.ID, -sets, StockUnmade, section, ""); err != nil {
		return err
	}
	for i := range product.Sections {
		if err := moveLoose(tx, product.Sections[i].ID, sets, looseParted, nil); err != nil {
			return err
		}
	}
	return nil
}

// assembleSets puts a product's loose pieces into stock, as far as there is one
// of each section.
func assembleSets(tx *gorm.DB, product *shop.Product, ref string) error {
	there, err := looseBySection(tx)
	if err != nil {
		return err
	}
	sets := there[product.Sections[0].ID]
	for i := range product.Sections {
		sets = min(sets, there[product.Sections[i].ID])
	}
	if sets <= 0 {
		return nil
	}
	for i := range product.Sections {
		if err := moveLoose(tx, product.Sections[i].ID, -sets, looseSet, nil); err != nil {
			return err
		}
	}
	_, err = moveStock(tx, product.ID, sets, StockTrimmed, ref, "")
	return err
}

// loadLoose adds the loose pieces to what comes in: they are there now.
func loadLoose(tx *gorm.DB, s *shop.Shop) error {
	there, err := looseBySection(tx)
	if err != nil {
		return err
	}
	for i := range s.Products {
		for _, section := range s.Products[i].Sections {
			if n := there[section.ID]; n > 0 {
				s.Incoming = append(s.Incoming, shop.Incoming{Section: section.ID, Pieces: n, At: s.Now})
			}
		}
	}
	return nil
}

// checkLoose holds that no section has less than no loose pieces, that the good
// pieces of every trim task moved on as they were reported, and that stock
// holds the sets that were made of them.
func checkLoose(tx *gorm.DB) error {
	there, err := looseBySection(tx)
	if err != nil {
		return err
	}
	var found []error
	for section, n := range there {
		if n < 0 {
			found = append(found, fmt.Errorf("section %q: %d loose pieces", section, n))
		}
	}
	var wrong []struct {
		ID          int64
		Good, Moved int
	}
	err = tx.Raw(`SELECT t.id, t.good, coalesce(sum(m.pieces), 0) AS moved FROM released_tasks t
		LEFT JOIN piece_moves m ON m.task = t.id WHERE t.stage = 'trim'
		AND NOT EXISTS (SELECT 1 FROM reports r WHERE r.task = t.id AND r.what = 'done' AND r.reason = ?)
		GROUP BY t.id HAVING t.good <> moved`, fromFile).Scan(&wrong).Error
	for _, w := range wrong {
		found = append(found, fmt.Errorf("task %d trimmed %d good pieces, and %d moved on", w.ID, w.Good, w.Moved))
	}
	return errors.Join(append(found, err, checkSets(tx))...)
}

// checkSets holds that as many sets moved into stock as pieces of each section
// moved into sets.
func checkSets(tx *gorm.DB) error {
	s, err := catalog(tx)
	if errors.Is(err, errEmpty) {
		return nil
	}
	if err != nil {
		return err
	}
	var rows []Loose
	err = tx.Model(&pieceRow{}).Select("section, -sum(pieces) AS pieces").
		Where("why IN ?", []string{looseSet, looseParted}).Group("section").Scan(&rows).Error
	if err != nil {
		return err
	}
	made, err := sums(tx.Model(&stockRow{}).Where("why IN ?", []string{StockTrimmed, StockUnmade}).
		Select("product, sum(sets) AS sets").Group("product"))
	var found []error
	for _, r := range rows {
		if product, _ := sectionOf(s, r.Section); product != nil && made[product.ID] != r.Pieces {
			found = append(found, fmt.Errorf("section %q: %d pieces went into sets, and %d sets of product %q into stock",
				r.Section, r.Pieces, made[product.ID], product.ID))
		}
	}
	return errors.Join(append(found, err)...)
}
