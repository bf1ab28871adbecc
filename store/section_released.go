package store

import (
	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// released is where the released work of an imported file stays, as it stands.
const released = "released"

func loadReleased(tx *gorm.DB, s *shop.Shop) error {
	var rows []thingRow
	if err := tx.Where("kind = ?", released).Find(&rows).Error; err != nil || len(rows) == 0 {
		return err
	}
	work, err := decode[shop.Released]([]byte(rows[0].Body))
	s.Released = &work
	return err
}

func saveReleased(tx *gorm.DB, s *shop.Shop) error {
	if s.Released == nil {
		return nil
	}
	body := string(strict.Encode(s.Released))
	return tx.Create(&thingRow{Kind: released, ID: released, Position: 1, Rev: 1, Body: body}).Error
}
