package web

import (
	"context"
	"fmt"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// ShipBooks are what sending an order asks of the books.
type ShipBooks interface {
	Order(ctx context.Context, id string) (store.Order, error)
	Ship(ctx context.Context, parcels []store.Parcel, note string) (store.Shipment, error)
}

func (p *pages) shipRoutes() []route {
	return []route{post("/orders/show/:id/ship", "ship", p.ship)}
}

// shipForm asks how many sets of each open line go into the parcel.
func shipForm(o store.Order) ChangeForm {
	form := ChangeForm{Title: "Ship from stock", Action: orderAddress(o.ID) + "/ship", Button: "It is sent"}
	for i := range o.Lines {
		if l := &o.Lines[i]; l.Open() > 0 {
			form.Fields = append(form.Fields, Field{
				Name: parcelOf(i), Label: fmt.Sprintf("%s: %s", l.ID, l.Product), Kind: "number", Least: "0", Hint: fmt.Sprintf("%d open", l.Open()),
			})
		}
	}
	form.Fields = append(form.Fields, Field{Name: "note", Label: "Note", Kind: "text"})
	return form
}

func parcelOf(i int) string { return fmt.Sprintf("parcels[%d].sets", i) }

// ship takes sets from stock and writes down that they were sent.
func (p *pages) ship(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	o, err := p.Books.Order(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	parcels, rows, err := parcelsOf(c, o)
	if err == nil {
		_, err = p.Books.Ship(ctx, parcels, c.PostForm("note"))
	}
	if err != nil {
		p.refuseOrder(c, id, "ship", inRows(err, "parcels", rows), shipForm(o).Fields...)
		return
	}
	done(c, orderAddress(id), "What was sent is written down, and out of stock.")
}

// parcelsOf reads what of each line goes into the parcel; rows says, for each
// that does, which line of the order it is, but for an error that does so.
func parcelsOf(c *gin.Context, o store.Order) (parcels []store.Parcel, rows []int, err error) {
	r := formReader{c: c}
	for i := range o.Lines {
		if text := c.PostForm(parcelOf(i)); text != "" && text != "0" {
			parcels = append(parcels, store.Parcel{Line: o.Lines[i].ID, Sets: r.count(parcelOf(i))})
			rows = append(rows, i)
		}
	}
	if err := r.err(); err != nil {
		return nil, nil, err
	}
	return parcels, rows, nil
}
