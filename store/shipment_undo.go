package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// A TakenBack says when a shipment was taken back, by whom and why.
type TakenBack struct {
	At    time.Time `json:"at"`
	Actor string    `json:"actor"`
	Why   string    `json:"why"`
}

// TakeBackShipment takes a shipment back that was entered by mistake: what it
// took comes back into stock, and its lines are open again. The shipment stays,
// and says why.
func (b *Books) TakeBackShipment(ctx context.Context, id int64, why string) (Shipment, error) {
	asked := struct {
		ID  int64
		Why string
	}{id, why}
	return once(ctx, b, "take a shipment back", asked, func(tx *gorm.DB) (Shipment, error) {
		var row shipmentRow
		if err := tx.Where("id = ?", id).Take(&row).Error; missing(err) {
			return Shipment{}, notFound("shipment", fmt.Sprint(id))
		} else if err != nil {
			return Shipment{}, err
		}
		before, err := withParcels(tx, []shipmentRow{row})
		if err == nil {
			err = judgeTakeBack(&before[0], why)
		}
		if err != nil {
			return Shipment{}, err
		}
		return takeBack(tx, row, before[0], why)
	})
}

func judgeTakeBack(s *Shipment, why string) error {
	if s.TakenBack != nil {
		return conflict("shipment %d was taken back already: %s", s.ID, s.TakenBack.Why)
	}
	var p findings
	p.needed("why", why)
	p.text("why", why, lineLength)
	return p.err()
}

func takeBack(tx *gorm.DB, row shipmentRow, before Shipment, why string) (Shipment, error) {
	for _, parcel := range before.Parcels {
		if err := unsend(tx, row.ID, parcel); err != nil {
			return Shipment{}, err
		}
	}
	row.TakenBack, row.TakenBackBy, row.TakenBackWhy = optionalMillis(now(tx)), actor(tx.Statement.Context), why
	if err := tx.Save(&row).Error; err != nil {
		return Shipment{}, err
	}
	after := row.shipment(before.Parcels)
	return after, trail(tx, "shipment", fmt.Sprint(row.ID), "taken back", before, after)
}

// unsend undoes one parcel.
func unsend(tx *gorm.DB, shipment int64, parcel Parcel) error {
	r, err := takeLine(tx, parcel.Line)
	if err != nil {
		return err
	}
	known, err := productsOf(tx)
	if err != nil {
		return err
	}
	if !known[r.Product] {
		return conflict("line %q would ask for %q again, which the catalog has no longer", r.ID, r.Product)
	}
	before := r.line()
	r.Shipped -= parcel.Sets
	if _, err := saveLine(tx, "not shipped after all", before, r); err != nil {
		return err
	}
	if before.ToShelf() {
		return nil
	}
	_, err = moveStock(tx, r.Product, parcel.Sets, StockUnsent, fmt.Sprint(shipment), r.ID)
	return err
}
