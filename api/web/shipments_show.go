package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// ShipmentBooks are what the page of shipments asks of the books.
type ShipmentBooks interface {
	Line(ctx context.Context, id string) (store.Line, error)
	Shipments(ctx context.Context, f store.ShipmentFilter) ([]store.Shipment, error)
	TakeBackShipment(ctx context.Context, id int64, why string) (store.Shipment, error)
}

func (p *pages) shipmentRoutes() []route {
	return []route{
		get("/shipments", "see-pages", func(c *gin.Context) { p.shipmentsPage(c, refusal{status: http.StatusOK}) }),
		post("/shipments/:id/take-back", "ship", p.takeBack),
	}
}

const shipmentsAtOnce = 100

// shipmentsPage lists shipments, and a form of the page as it was refused.
func (p *pages) shipmentsPage(c *gin.Context, again refusal) {
	page := &ShipmentsPage{Frame: p.frame(c, "What was sent", "/orders"), Back: Option{"/orders", "Orders"}}
	filter := store.ShipmentFilter{Order: c.Query("order"), Line: c.Query("line"), Limit: shipmentsAtOnce}
	switch {
	case filter.Order != "":
		page.Of, page.Back = "order "+filter.Order, Option{orderAddress(filter.Order), "Order " + filter.Order}
	case filter.Line != "":
		page.Of = "line " + filter.Line
	}
	var err error
	if text := c.Query("before"); text != "" {
		filter.Before, err = idIn(text)
	}
	if err == nil {
		err = p.shipmentRows(c, page, filter, &again)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Wrong = again.left()
	p.show(c, again.status, "shipments", page)
}

func (p *pages) shipmentRows(c *gin.Context, page *ShipmentsPage, filter store.ShipmentFilter, again *refusal) error {
	ctx := c.Request.Context()
	list, err := p.Books.Shipments(ctx, filter)
	if err != nil {
		return err
	}
	for i := range list {
		row := ShipmentRow{Shipment: list[i]}
		for _, parcel := range list[i].Parcels {
			l, err := p.Books.Line(ctx, parcel.Line)
			if err != nil {
				return err
			}
			row.Sent = append(row.Sent, SentRow{parcel, l.Product, lineAddress(&l)})
		}
		if may(c, "ship") && row.TakenBack == nil {
			row.TakeBack = takeBackForm(row.ID)
			again.into(&row.TakeBack, takeBackName(row.ID))
		}
		page.Rows = append(page.Rows, row)
	}
	if n := len(list); n == shipmentsAtOnce {
		page.Older = "/shipments?" + url.Values{"order": {filter.Order}, "line": {filter.Line}, "before": {fmt.Sprint(list[n-1].ID)}}.Encode()
	}
	return nil
}

// takeBackForm asks why a shipment is taken back.
func takeBackForm(id int64) ChangeForm {
	return ChangeForm{Title: "Take it back", Action: fmt.Sprintf("/shipments/%d/take-back", id), Button: fmt.Sprintf("Take shipment %d back", id), Fields: []Field{
		{Name: "why", Label: "Why", Kind: "text", Required: true, Quiet: true, Hint: "What it took is in stock again, and its lines are open."},
	}}
}

func takeBackName(id int64) string { return "back " + strconv.FormatInt(id, 10) }

func (p *pages) takeBack(c *gin.Context) {
	ctx := c.Request.Context()
	id, err := idIn(c.Param("id"))
	if err == nil {
		_, err = p.Books.TakeBackShipment(ctx, id, strings.TrimSpace(c.PostForm("why")))
	}
	if err != nil {
		f := filled{values: c.Request.PostForm}
		whole, status, ours := f.refused(ctx, p.Log, err, takeBackForm(id).Fields)
		if ours != nil {
			p.fail(c, ours)
			return
		}
		p.shipmentsPage(c, refusal{status: status, form: takeBackName(id), filled: f, whole: whole})
		return
	}
	done(c, "/shipments", fmt.Sprintf("Shipment %d is taken back: what it took is in stock again, and its lines are open.", id))
}
