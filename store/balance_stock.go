package store

import (
	"errors"
	"fmt"

	"gorm.io/gorm"
)

// checkStock holds that no product has less than nothing in stock, and that
// what is short of a level is asked for, no more and no less.
func checkStock(tx *gorm.DB) error {
	h, err := holdings(tx)
	if err != nil {
		return err
	}
	asked, err := sums(tx.Model(&lineRow{}).Where("level").Select("product, quantity AS sets"))
	if err != nil {
		return err
	}
	known := map[string]bool{}
	for _, sums := range []map[string]int{h.hand, h.level, asked} {
		for product := range sums {
			known[product] = true
		}
	}
	var found []error
	for product := range known {
		of := h.of(product)
		if of.OnHand < 0 {
			found = append(found, fmt.Errorf("product %q: %d in stock", product, of.OnHand))
		}
		if of.Short != asked[product] {
			found = append(found, fmt.Errorf("product %q: %d short of its level, %d asked for", product, of.Short, asked[product]))
		}
	}
	return errors.Join(found...)
}

// checkShipped holds that lines have shipped what shipments sent on them, and
// that it left stock.
func checkShipped(tx *gorm.DB) error {
	var wrong []string
	err := tx.Raw(`SELECT id FROM lines WHERE shipped <>
		(SELECT coalesce(sum(sets), 0) FROM shipment_lines JOIN shipments ON shipments.id = shipment
			WHERE line = lines.id AND taken_back IS NULL)`).Scan(&wrong).Error
	if err != nil {
		return err
	}
	var found []error
	for _, id := range wrong {
		found = append(found, fmt.Errorf("line %q has not shipped what was sent on it", id))
	}
	var sent, left int
	err = tx.Raw(`SELECT coalesce(sum(sets), 0) FROM shipment_lines JOIN lines ON lines.id = line JOIN shipments ON shipments.id = shipment
		WHERE taken_back IS NULL AND (kind = 'order' OR claim IS NOT NULL)`).Scan(&sent).Error
	if err != nil {
		return err
	}
	if err := tx.Raw("SELECT coalesce(-sum(sets), 0) FROM stock_moves WHERE why IN (?, ?)", StockShipped, StockUnsent).Scan(&left).Error; err != nil {
		return err
	}
	if sent != left {
		found = append(found, fmt.Errorf("%d sets were sent, and %d left stock for it", sent, left))
	}
	return errors.Join(found...)
}
