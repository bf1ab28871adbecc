package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

func orderAddress(id string) string { return "/orders/show/" + url.PathEscape(id) }

// A refusal is a form of an order's page that was refused, to be shown again.
type refusal struct {
	status int
	form   string // "head", "add", or a line's id
	filled filled
	whole  string
	shown  bool // a form has taken it
}

// left is why a form was refused that is not there any more.
func (r *refusal) left() string {
	if r.status == http.StatusOK || r.shown {
		return ""
	}
	return r.whole
}

func (p *pages) order(c *gin.Context) { p.orderPage(c, c.Param("id"), refusal{status: http.StatusOK}) }

func (p *pages) orderPage(c *gin.Context, id string, again refusal) {
	ctx := c.Request.Context()
	o, err := p.Books.Order(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	dealers, err := p.Books.Dealers(ctx)
	if err != nil {
		p.fail(c, err)
		return
	}
	ships := p.ships(ctx)
	page := &OrderPage{Frame: p.frame(c, "Order "+id, "/orders"), Order: headOf(o, &ships), Change: may(c, "change-orders")}
	var rows []LineRow
	for i := range o.Lines {
		line := orderLine(&o.Lines[i], &ships, &again, may(c, "hold-lines"))
		rows = append(rows, line.LineRow)
		page.Lines = append(page.Lines, line)
	}
	page.Tell = tellDealer(&page.Frame, page.Order, rows)
	page.Products = p.productIDs(c)
	page.headForms(dealers, o, &again)
	if may(c, "ship") && o.Open() {
		page.Ship = shipForm(o, ships.today)
		again.into(&page.Ship, "ship")
	}
	page.Wrong = again.left()
	p.show(c, again.status, "order", page)
}

// headForms are the forms of an order as a whole.
func (p *OrderPage) headForms(dealers []store.Dealer, o store.Order, again *refusal) {
	address := orderAddress(o.ID)
	p.Head = ChangeForm{Title: "Change the order", Action: address, Button: "Change the order", Fields: termsFields(dealers, o)}
	p.Another = ChangeForm{Title: "Add a line", Action: address + "/lines", Button: "Add the line", Fields: lineFields("", store.Line{})}
	again.into(&p.Head, "head")
	again.into(&p.Another, "add")
}

// into shows a refused form again as it was sent.
func (r *refusal) into(form *ChangeForm, name string) {
	if r.form == name && r.status != http.StatusOK {
		form.Fields, form.Problem, form.Open, r.shown = r.filled.fill(form.Fields), r.whole, true, true
	}
	for i := range form.Fields {
		form.Fields[i].Scope = strings.Map(func(c rune) rune {
			if c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
				return c
			}
			return '-'
		}, name)
	}
}

func headOf(o store.Order, s *ships) OrderHead {
	return OrderHead{ID: o.ID, Dealer: cmp.Or(s.dealers[o.Dealer], o.Dealer), Reference: o.Reference, Complete: o.Complete, Note: o.Note, Rev: o.Rev}
}

// refuseOrder shows an order's page again with the form that was refused; fields
// are those of it that are not a line's or the order's.
func (p *pages) refuseOrder(c *gin.Context, order, form string, err error, fields ...Field) {
	f := filled{values: c.Request.PostForm}
	fields = slices.Concat(fields, lineFields("", store.Line{}), termsFields(nil, store.Order{}))
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	p.orderPage(c, order, refusal{status: status, form: form, filled: f, whole: whole})
}

func (p *pages) changeOrder(c *gin.Context) {
	id := c.Param("id")
	if _, err := p.Books.ChangeOrder(c.Request.Context(), id, orderTerms(c), revOf(c)); err != nil {
		p.refuseOrder(c, id, "head", err)
		return
	}
	done(c, orderAddress(id), "The order is changed.")
}

func (p *pages) cancelOrder(c *gin.Context) {
	id := c.Param("id")
	if _, err := p.Books.CancelOrder(c.Request.Context(), id, revOf(c)); err != nil {
		p.refuseOrder(c, id, "head", err)
		return
	}
	done(c, orderAddress(id), "What was open of the order is cancelled.")
}

func (p *pages) addLine(c *gin.Context) {
	id, r := c.Param("id"), formReader{c: c}
	terms := r.terms("")
	err := r.into(func(ctx context.Context) error {
		_, err := p.Books.AddLine(ctx, id, terms, 0)
		return err
	}, asNamed)
	if err != nil {
		p.refuseOrder(c, id, "add", err)
		return
	}
	done(c, orderAddress(id), "The line is added. Plan again to see its date.")
}

// productIDs are proposed where a product is typed.
func (p *pages) productIDs(c *gin.Context) []string {
	things, err := p.Books.Things(c.Request.Context(), "product")
	if err != nil {
		return nil // proposals only
	}
	out := make([]string, len(things))
	for i, t := range things {
		out[i] = t.ID
	}
	return out
}

func (p *pages) newOrder(c *gin.Context) { p.orderForm(c, http.StatusOK, filled{}, "", nil) }

// orderForm shows the form of a new order, with what was sent and what a quote
// said of it.
func (p *pages) orderForm(c *gin.Context, status int, f filled, whole string, quote *runs.View) {
	dealers, err := p.Books.Dealers(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &OrderForm{Frame: p.frame(c, "Enter an order", "/orders"), Head: f.fill(newOrderFields(dealers)), Products: p.productIDs(c)}
	page.Wrong = whole
	for i := range orderRows {
		page.Rows = append(page.Rows, OrderRow{i + 1, f.fill(lineFields(rowPrefix(i), store.Line{}))})
	}
	if quote != nil {
		page.Plan = fmt.Sprintf("plan %d, which is only to look at", quote.ID)
		page.Quote = quoteRows(quote)
		page.compare(c.Request.Context(), p.Runs.Views(), quote)
	}
	p.show(c, status, "order-new", page)
}

// compare finds the lines that a quote's plan has late, and the latest plan has not.
func (p *OrderForm) compare(ctx context.Context, views *runs.Views, quote *runs.View) {
	latest, err := views.Latest(ctx)
	if err != nil {
		return // there is none to compare with
	}
	p.Against = fmt.Sprintf("plan %d", latest.ID)
	moves := runs.Compare(latest.Shop, latest.Plan, quote.Shop, quote.Plan).Lines
	p.Late = slices.DeleteFunc(moves, func(m runs.LineMove) bool { return m.New || m.WasLate() || !m.IsLate() })
}

// enterOrder enters an order, or first asks for a plan with it.
func (p *pages) enterOrder(c *gin.Context) {
	ctx, r := c.Request.Context(), formReader{c: c}
	order, rows := r.newOrder()
	quote := c.PostForm("do") == "quote"
	var entered store.Order
	err := r.into(func(ctx context.Context) (err error) {
		if quote {
			ctx = store.WithTrial(ctx)
		}
		entered, err = p.Books.EnterOrder(ctx, order)
		return err
	}, func(err error) error { return inRows(err, "lines", rows) })
	switch {
	case err == nil && quote:
		p.askQuote(c, order)
		return
	case err == nil:
		done(c, orderAddress(entered.ID), "The order is entered. Plan again to see its dates.")
		return
	}
	f := filled{values: c.Request.PostForm}
	var fields []Field
	for i := range orderRows {
		fields = append(fields, lineFields(rowPrefix(i), store.Line{})...)
	}
	whole, status, ours := f.refused(ctx, p.Log, err, append(newOrderFields(nil), fields...))
	if ours != nil {
		p.fail(c, ours)
		return
	}
	p.orderForm(c, status, f, whole, nil)
}

// inRows names the books' problems with a list by the rows in which it was
// entered: rows that were left empty are not in it.
func inRows(err error, list string, rows []int) error {
	var problems strict.Problems
	if !errors.As(err, &problems) {
		return err
	}
	var out strict.Problems
	for _, problem := range problems {
		rest, ok := strings.CutPrefix(problem.Path, list+"[")
		number, tail, inside := strings.Cut(rest, "].")
		if n, err := strconv.Atoi(number); ok && inside && err == nil && n < len(rows) {
			problem.Path = fmt.Sprintf("%s[%d].%s", list, rows[n], tail)
		}
		out = append(out, problem)
	}
	return out
}

// quoteLine marks the lines of a quote among those of the books.
const quoteLine = "quote/"

// askQuote has a plan made of the books with an order in it that is not there.
func (p *pages) askQuote(c *gin.Context, order store.NewOrder) {
	ctx := c.Request.Context()
	s, err := p.Stock(ctx)
	if err != nil {
		p.fail(c, err)
		return
	}
	asked := *s
	asked.Demand = append([]shop.Line(nil), s.Demand...)
	for i, l := range order.Lines {
		line := shop.Line{ID: quoteLine + strconv.Itoa(i+1), Kind: shop.KindOrder, Product: l.Product, Quantity: l.Quantity, Due: l.Due, Weight: 1}
		if l.Weight != nil {
			line.Weight = *l.Weight
		}
		if order.Complete != nil && *order.Complete {
			line.Order, line.Complete = strings.TrimSuffix(quoteLine, "/"), true
		}
		asked.Demand = append(asked.Demand, line)
	}
	run, _, err := p.Runs.Request(ctx, runs.Ask{Why: store.PlanByQuote, Shop: &asked})
	if err != nil {
		p.fail(c, err)
		return
	}
	sent := c.Request.PostForm
	sent.Del("do")
	sent.Del(onceField)
	c.Redirect(http.StatusSeeOther, fmt.Sprintf("/orders/quote/%d?%s", run.ID, sent.Encode()))
}

// quote shows what a plan with the order in it says of the order. What was
// typed is in the address, so that nothing has to be kept for it.
func (p *pages) quote(c *gin.Context) {
	id, err := idIn(c.Param("run"))
	if err != nil {
		p.fail(c, err)
		return
	}
	here := c.Request.URL.RequestURI()
	if run, ok := p.Runs.Run(id); ok && run.Progress().Stage != runs.StageDone {
		page := &RunPage{Frame: p.frame(c, "The order's dates are being worked out", "/orders"), ID: id, Progress: run.Progress(), Ask: runAddress(id) + "?then=" + url.QueryEscape(here), Then: here}
		page.Refresh = lookAgain
		p.show(c, http.StatusOK, "run", page)
		return
	}
	view, err := p.Runs.Views().Plan(c.Request.Context(), id)
	if err != nil {
		p.fail(c, err)
		return
	}
	p.orderForm(c, http.StatusOK, filled{values: c.Request.URL.Query()}, "", view)
}

func quoteRows(view *runs.View) []QuoteRow {
	var out []QuoteRow
	for _, s := range view.Shippings {
		if strings.HasPrefix(s.Line.ID, quoteLine) {
			out = append(out, QuoteRow{Product: s.Line.Product, Sets: s.Line.Quantity, Due: s.Line.Due, Ship: s.Ship, Unplanned: s.Unplanned})
		}
	}
	return out
}
