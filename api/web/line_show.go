package web

import (
	"context"
	"fmt"
	"net/url"
	"strconv"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/draw"
	"blankwright/store"
)

// A line is changed, cancelled and sent from the page that shows it: its
// order's, its claim's, or its product's.

func (p *pages) lineRoutes() []route {
	return []route{
		post("/lines/:id", "change-orders", p.changeLine),
		post("/lines/:id/cancel", "change-orders", p.cancelLine),
		post("/lines/:id/send", "ship", p.sendLine),
	}
}

// orderLine is a line with the forms that change it and hold it back, as they
// were refused, if so.
func orderLine(l *store.Line, ships *ships, again *refusal, mayHold bool) OrderLine {
	out := OrderLine{LineRow: ships.row(l), Rev: l.Rev, Form: ChangeForm{
		Action: "/lines/" + url.PathEscape(l.ID), Button: "Change the line", Fields: lineFields("", *l),
	}}
	again.into(&out.Form, l.ID)
	if mayHold && l.Open() > 0 && !l.Level {
		out.Hold, out.Lift = holdForm(l), liftAddress(l.ID)
		again.into(&out.Hold, holdName(l.ID))
	}
	return out
}

// lineAddress is where a line is shown.
func lineAddress(l *store.Line) string {
	switch {
	case l.Order != "":
		return orderAddress(l.Order)
	case l.Claim != "":
		return claimAddress(l.Claim)
	}
	return stockAddress(l.Product)
}

// refuseLine shows a line's page again with the form that was refused.
func (p *pages) refuseLine(c *gin.Context, l *store.Line, form string, err error) {
	fields := append(holdFields(), Field{Name: "sets"})
	if l.Order != "" {
		p.refuseOrder(c, l.Order, form, err, fields...)
		return
	}
	f := filled{values: c.Request.PostForm}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, append(fields, lineFields("", store.Line{})...))
	switch again := (refusal{status: status, form: form, filled: f, whole: whole}); {
	case ours != nil:
		p.fail(c, ours)
	case l.Claim != "":
		p.claimPage(c, l.Claim, again)
	default:
		p.stockOf(c, l.Product, again)
	}
}

func (p *pages) changeLine(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	before, err := p.Books.Line(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	r := formReader{c: c}
	terms := r.terms("")
	err = r.into(func(ctx context.Context) error {
		_, err := p.Books.ChangeLine(ctx, id, terms, revOf(c))
		return err
	}, asNamed)
	if err != nil {
		p.refuseLine(c, &before, id, err)
		return
	}
	done(c, lineAddress(&before), "Line "+id+" is changed. Plan again to see its date.")
}

func (p *pages) cancelLine(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	before, err := p.Books.Line(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	if _, err = p.Books.CancelLine(ctx, id, revOf(c)); err != nil {
		c.Request.PostForm = nil // of the form beside it nothing was sent
		p.refuseLine(c, &before, id, err)
		return
	}
	done(c, lineAddress(&before), "Line "+id+" is cancelled.")
}

// sendForm asks how many sets of a line are sent, or lie on the shelf.
func sendForm(l *store.Line, title, button string) ChangeForm {
	return ChangeForm{Title: title, Action: "/lines/" + url.PathEscape(l.ID) + "/send", Button: button, Fields: []Field{
		{Name: "sets", Label: "Sets", Kind: "number", Least: "1", Value: strconv.Itoa(l.Open()), Hint: fmt.Sprintf("%d open", l.Open()), Required: true, Quiet: true},
	}}
}

// sendOf is by which a line's form for sending is found again.
func sendOf(line string) string { return "send " + line }

// sendLine takes sets of one line from stock and writes down that they were sent.
func (p *pages) sendLine(c *gin.Context) {
	ctx := c.Request.Context()
	l, err := p.Books.Line(ctx, c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	r := formReader{c: c}
	parcel := store.Parcel{Line: l.ID, Sets: r.count("sets")}
	if err = r.err(); err == nil {
		_, err = p.Books.Ship(ctx, []store.Parcel{parcel}, "")
	}
	if err != nil {
		p.refuseLine(c, &l, sendOf(l.ID), atSets(err))
		return
	}
	done(c, lineAddress(&l), fmt.Sprintf("Line %s: %s more written down.", l.ID, draw.Counted(parcel.Sets, "set")))
}
