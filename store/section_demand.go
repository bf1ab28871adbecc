package store

import (
	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// loadDemand adds what is open of every line that is not held back.
func loadDemand(tx *gorm.DB, s *shop.Shop) error {
	var rows []lineRow
	if err := tx.Where(openLine).Order("seq").Find(&rows).Error; err != nil {
		return err
	}
	at, err := asOf(tx, s.Zone())
	if err != nil {
		return err
	}
	for _, r := range rows {
		if r.hold().lasts(shop.DateOf(at.Time())) {
			continue
		}
		s.Demand = append(s.Demand, shop.Line{
			ID: r.ID, Kind: r.Kind, Product: r.Product, Quantity: r.open(), Due: dateOf(r.Due), Weight: r.Weight,
			Order: textOf(r.OrderID), Complete: r.Complete,
		})
	}
	return nil
}

// saveDemand writes a file's lines, and the orders that they name. A file says
// nothing of dealers.
func saveDemand(tx *gorm.DB, s *shop.Shop) error {
	var orders []orderRow
	at := map[string]int{}
	var lines []lineRow
	for _, l := range s.Demand {
		if i, known := at[l.Order]; known {
			orders[i].Complete = orders[i].Complete && l.Complete
		} else if l.Order != "" {
			at[l.Order] = len(orders)
			orders = append(orders, orderRow{ID: l.Order, Complete: l.Complete, Entered: millis(tx), Rev: 1})
		}
		lines = append(lines, lineRow{
			ID: l.ID, Kind: l.Kind, OrderID: orNull(l.Order), Product: l.Product, Quantity: l.Quantity,
			Due: l.Due.String(), Weight: l.Weight, Complete: l.Complete, Rev: 1,
		})
	}
	if len(orders) > 0 {
		if err := tx.CreateInBatches(orders, 100).Error; err != nil {
			return err
		}
	}
	if len(lines) == 0 {
		return nil
	}
	return tx.CreateInBatches(lines, 50).Error
}
