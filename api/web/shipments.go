package web

import (
	"io"

	"blankwright/store"
)

// A ShipmentsPage lists what was sent, the newest first.
type ShipmentsPage struct {
	Frame
	Of    string // of what; empty: all
	Back  Option // the page that it belongs to
	Rows  []ShipmentRow
	Older string // the address of those before
}

// A ShipmentRow is what was sent at once.
type ShipmentRow struct {
	store.Shipment
	Sent     []SentRow
	TakeBack ChangeForm // without fields where the caller may not, or it is done
}

// A SentRow is some sets of one line, with the page that shows the line.
type SentRow struct {
	store.Parcel
	Product, Address string
}

// Render writes the page.
func (p *ShipmentsPage) Render(w io.Writer) error { return render(w, "shipments", p) }
