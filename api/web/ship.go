package web

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
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

// shipForm asks how many sets of each open line go into the parcel; it has no
// fields where all that is open is held back.
func shipForm(o store.Order, today shop.Date) ChangeForm {
	form := ChangeForm{Title: "Ship from stock", Action: orderAddress(o.ID) + "/ship", Button: "It is sent"}
	for i := range o.Lines {
		if l := &o.Lines[i]; l.Open() > 0 && !l.Held(today) {
			form.Fields = append(form.Fields, Field{
				Name: parcelOf(i), Label: fmt.Sprintf("%s: %s", l.ID, l.Product), Kind: "number", Least: "0", Hint: fmt.Sprintf("%d open", l.Open()),
			})
		}
	}
	if len(form.Fields) == 0 {
		return form
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
		p.refuseOrder(c, id, "ship", inRows(atSets(err), "parcels", rows), shipForm(o, p.today(ctx)).Fields...)
		return
	}
	done(c, orderAddress(id), "What was sent is written down, and out of stock.")
}

// atSets has what is wrong with a parcel's line stand at its sets: nothing else
// of it is typed.
func atSets(err error) error {
	var problems strict.Problems
	if !errors.As(err, &problems) {
		return err
	}
	out := slices.Clone(problems)
	for i := range out {
		if path, ok := strings.CutSuffix(out[i].Path, "].line"); ok {
			out[i].Path = path + "].sets"
		}
	}
	return out
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
