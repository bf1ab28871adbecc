package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// A Parcel is some sets of one line that are sent.
type Parcel struct {
	Line string `json:"line"`
	Sets int    `json:"sets"`
}

// A Shipment is what was sent at once.
type Shipment struct {
	ID      int64     `json:"id"`
	At      time.Time `json:"at"`
	Actor   string    `json:"actor"`
	Note    string    `json:"note"`
	Parcels []Parcel  `json:"parcels"`

	TakenBack *TakenBack `json:"taken_back,omitempty"` // nil: it stands
}

type shipmentRow struct {
	ID    int64 `gorm:"primaryKey"`
	At    int64
	Actor string
	Note  string

	TakenBack    *int64
	TakenBackBy  string
	TakenBackWhy string
}

func (shipmentRow) TableName() string { return "shipments" }

func (r shipmentRow) shipment(parcels []Parcel) Shipment {
	s := Shipment{ID: r.ID, At: instant(r.At), Actor: r.Actor, Note: r.Note, Parcels: parcels}
	if r.TakenBack != nil {
		s.TakenBack = &TakenBack{instant(*r.TakenBack), r.TakenBackBy, r.TakenBackWhy}
	}
	return s
}

type parcelRow struct {
	Shipment int64  `gorm:"primaryKey"`
	Line     string `gorm:"primaryKey"`
	Sets     int
}

func (parcelRow) TableName() string { return "shipment_lines" }

// Ship takes sets from stock and sends them on lines. A line for the shelf is
// served by what stays in stock. Lines that ship complete go together: all that
// is open of their order, or none of it.
func (b *Books) Ship(ctx context.Context, parcels []Parcel, note string) (Shipment, error) {
	asked := Shipment{Parcels: parcels, Note: note}
	return once(ctx, b, "ship", asked, func(tx *gorm.DB) (Shipment, error) {
		lines, err := judgeShipment(tx, parcels, note)
		if err != nil {
			return Shipment{}, err
		}
		row := shipmentRow{At: millis(tx), Actor: actor(tx.Statement.Context), Note: note}
		if err := tx.Create(&row).Error; err != nil {
			return Shipment{}, err
		}
		for i, parcel := range parcels {
			if err := send(tx, row.ID, lines[i], parcel); err != nil {
				return Shipment{}, err
			}
		}
		out := row.shipment(parcels)
		return out, trail(tx, "shipment", fmt.Sprint(row.ID), "shipped", nil, out)
	})
}

// send writes one parcel.
func send(tx *gorm.DB, shipment int64, r lineRow, parcel Parcel) error {
	if err := tx.Create(&parcelRow{shipment, r.ID, parcel.Sets}).Error; err != nil {
		return err
	}
	before := r.line()
	r.Shipped += parcel.Sets
	if _, err := saveLine(tx, "shipped", before, r); err != nil {
		return err
	}
	if before.ToShelf() {
		return nil
	}
	_, err := moveStock(tx, r.Product, -parcel.Sets, StockShipped, fmt.Sprint(shipment), r.ID)
	return err
}

func judgeShipment(tx *gorm.DB, parcels []Parcel, note string) ([]lineRow, error) {
	var p findings
	p.text("note", note, noteLength)
	if len(parcels) == 0 {
		p.say("parcels", "has 0 entries, but must have at least 1")
	}
	lines := make([]lineRow, len(parcels))
	sent := map[string]int{}
	for i, parcel := range parcels {
		path := fmt.Sprintf("parcels[%d].", i)
		r, err := takeLine(tx, parcel.Line)
		if isNotFound(err) {
			p.say(path+"line", "there is no line %q", parcel.Line)
			continue
		}
		if err != nil {
			return nil, err
		}
		if _, twice := sent[r.ID]; twice {
			p.say(path+"line", "%q is in the shipment already", r.ID)
		}
		lines[i] = r
		sent[r.ID] += parcel.Sets
		p.parcel(path, r, parcel.Sets)
		if err := p.sendable(tx, path, r); err != nil {
			return nil, err
		}
	}
	if err := p.enough(tx, lines, parcels); err != nil {
		return nil, err
	}
	if err := p.together(tx, lines, sent); err != nil {
		return nil, err
	}
	return lines, p.err()
}

// parcel judges one parcel by its line.
func (p *findings) parcel(path string, r lineRow, sets int) {
	switch {
	case r.Level:
		p.say(path+"line", "%q follows from a stock level: what it asks for stays in stock", r.ID)
	case sets < 1:
		p.count(path+"sets", sets, 1)
	case sets > r.open():
		p.say(path+"sets", "is %d, but %d are open", sets, r.open())
	}
}

// sendable asks that the line of a parcel is not held back.
func (p *findings) sendable(tx *gorm.DB, path string, r lineRow) error {
	if r.Held == nil {
		return nil
	}
	day, err := today(tx)
	if err == nil && r.line().Held(day) {
		p.say(path+"line", "%q is held back: %s", r.ID, *r.Held)
	}
	return err
}

// enough asks that all sets of a product that leave are in stock.
func (p *findings) enough(tx *gorm.DB, lines []lineRow, parcels []Parcel) error {
	leaving := map[string]int{}
	for i, r := range lines {
		if r.ID == "" {
			continue
		}
		hand, err := onHand(tx, r.Product)
		if err != nil {
			return err
		}
		leaving[r.Product] += parcels[i].Sets
		if leaving[r.Product] > hand {
			p.say(fmt.Sprintf("parcels[%d].sets", i), "there are %d of %q in stock, and %d would leave", hand, r.Product, leaving[r.Product])
		}
	}
	return nil
}

// together asks that lines which ship complete leave nothing of their order
// behind that does so, too.
func (p *findings) together(tx *gorm.DB, lines []lineRow, sent map[string]int) error {
	for i, r := range lines {
		if r.OrderID == nil || !r.Complete {
			continue
		}
		var all []lineRow
		if err := tx.Where("order_id = ? AND complete", *r.OrderID).Where(openLine).Order("seq").Find(&all).Error; err != nil {
			return err
		}
		for _, other := range all {
			if left := other.open() - sent[other.ID]; left > 0 {
				p.say(fmt.Sprintf("parcels[%d].line", i),
					"order %q ships complete, and %d of line %q would stay behind", *r.OrderID, left, other.ID)
			}
		}
	}
	return nil
}

// A ShipmentFilter asks for some shipments. What is empty or zero asks for any.
type ShipmentFilter struct {
	Line   string
	Order  string
	Before int64 // shipments with a smaller ID: the next page
	Limit  int   // 0 is MaxPage
}

// Shipments returns shipments with their parcels, the newest first.
func (b *Books) Shipments(ctx context.Context, f ShipmentFilter) ([]Shipment, error) {
	var out []Shipment
	err := b.read(ctx, func(tx *gorm.DB) error {
		query := tx.Model(&shipmentRow{})
		if f.Line != "" {
			query = query.Where("id IN (SELECT shipment FROM shipment_lines WHERE line = ?)", f.Line)
		}
		if f.Order != "" {
			query = query.Where("id IN (SELECT shipment FROM shipment_lines JOIN lines ON lines.id = line WHERE order_id = ?)", f.Order)
		}
		if f.Before > 0 {
			query = query.Where("id < ?", f.Before)
		}
		var rows []shipmentRow
		if err := query.Order("id DESC").Limit(page(f.Limit)).Find(&rows).Error; err != nil {
			return err
		}
		var err error
		out, err = withParcels(tx, rows)
		return err
	})
	return out, doing(err, "shipments")
}

func withParcels(tx *gorm.DB, rows []shipmentRow) ([]Shipment, error) {
	var ids []int64
	for _, r := range rows {
		ids = append(ids, r.ID)
	}
	var parcels []parcelRow
	if err := tx.Where("shipment IN ?", ids).Order("rowid").Find(&parcels).Error; err != nil {
		return nil, err
	}
	of := map[int64][]Parcel{}
	for _, p := range parcels {
		of[p.Shipment] = append(of[p.Shipment], Parcel{p.Line, p.Sets})
	}
	out := make([]Shipment, len(rows))
	for i, r := range rows {
		out[i] = r.shipment(of[r.ID])
	}
	return out, nil
}
