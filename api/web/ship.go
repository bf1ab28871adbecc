package web

import (
	"context"
	"fmt"
	"strconv"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/strict"
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

func parcelOf(i int) string { return fmt.Sprintf("parcels[%d].pieces", i) }

// ship takes sets from stock and writes down that they were sent.
func (p *pages) ship(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	o, err := p.Books.Order(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	var parcels []store.Parcel
	var problems strict.Problems
	for i := range o.Lines {
		text := c.PostForm(parcelOf(i))
		if text == "" || text == "0" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil {
			problems = append(problems, strict.Problem{Path: parcelOf(i), Message: fmt.Sprintf("%q is no whole number", text)})
		}
		parcels = append(parcels, store.Parcel{Line: o.Lines[i].ID, Sets: n})
	}
	if err = orNil(problems); err == nil {
		_, err = p.Books.Ship(ctx, parcels, c.PostForm("note"))
	}
	if err != nil {
		p.refuseOrder(c, id, "ship", err)
		return
	}
	done(c, orderAddress(id), "What was sent is written down, and out of stock.")
}
