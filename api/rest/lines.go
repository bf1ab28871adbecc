package rest

import (
	"context"
	"net/http"
	"net/url"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A lineBody is one row of demand as the interface tells it.
type lineBody struct {
	ID        string     `json:"id"`
	Kind      string     `json:"kind" enum:"order,restock"`
	Order     string     `json:"order,omitempty"`
	Claim     string     `json:"claim,omitempty" doc:"The claim that it replaces a blank for"`
	Dealer    string     `json:"dealer,omitempty"`
	Level     bool       `json:"level" doc:"It follows from a stock level, and is not changed by itself"`
	Product   string     `json:"product"`
	Quantity  int        `json:"quantity"`
	Shipped   int        `json:"shipped"`
	Cancelled int        `json:"cancelled"`
	Open      int        `json:"open" doc:"What is still to ship"`
	Due       shop.Date  `json:"due" format:"date"`
	Promised  *shop.Date `json:"promised,omitempty" format:"date" doc:"What the dealer was told"`
	Weight    float64    `json:"weight"`
	Complete  bool       `json:"complete" doc:"Ships with the other lines of its order that say so"`
	Hold      *holdBody  `json:"hold,omitempty" doc:"It is held back; from its until on no longer, though it stands here until it is lifted"`
	Rev       int64      `json:"rev"`
}

// lineTerms are what is asked for on one line.
type lineTerms struct {
	Product  string     `json:"product" minLength:"1" maxLength:"200"`
	Quantity int        `json:"quantity" minimum:"1" maximum:"1000000000"`
	Due      shop.Date  `json:"due" format:"date"`
	Weight   *float64   `json:"weight,omitempty" minimum:"0" maximum:"1000000000" doc:"Absent: the dealer's, or what it was, or 1"`
	Promised *shop.Date `json:"promised,omitempty" format:"date" doc:"What the dealer was told; absent: nothing"`
}

type linesInput struct {
	Order    string `query:"order" maxLength:"200"`
	Dealer   string `query:"dealer" maxLength:"200"`
	Product  string `query:"product" maxLength:"200"`
	Kind     string `query:"kind" enum:"order,restock"`
	Text     string `query:"text" maxLength:"200" doc:"Within the line's id, its order's id or reference, or the dealer's or product's id or name"`
	Open     bool   `query:"open" doc:"Only those with something still to ship"`
	Held     bool   `query:"held" doc:"Only those that are held back today"`
	DueUntil string `query:"due_until" format:"date" doc:"Due on that date or before"`
	Page
}

type lineInput struct {
	ID string `path:"id" maxLength:"200" doc:"The line's id; a / in it is written %2F"`
}

type addLineInput struct {
	ID string `path:"id" maxLength:"200" doc:"The order's id"`
	Match
	Once
	Body lineTerms
}

// Resolve is called by huma, whatever the form's problems.
func (in *addLineInput) Resolve(ctx huma.Context) []error { return in.Body.asks(ctx) }

type changeLineInput struct {
	ID string `path:"id" maxLength:"200" doc:"The line's id; a / in it is written %2F"`
	Match
	Body lineTerms
}

type restockInput struct {
	Once
	Body lineTerms
}

// Resolve is called by huma, whatever the form's problems.
func (in *restockInput) Resolve(ctx huma.Context) []error { return in.Body.asks(ctx) }

// asks notes that a request asks for one line.
func (t lineTerms) asks(ctx huma.Context) []error {
	return asks(ctx, store.NewOrder{Lines: []store.LineTerms{t.terms()}}, "lines[0].")
}

func lines(r *routes) {
	add(r, operation{
		name: "list-lines", may: "read-demand", method: "GET", path: "/lines", tag: "orders", does: "Lines of demand, the first due first",
	}, r.listLines)
	add(r, operation{
		name: "read-line", may: "read-demand", method: "GET", path: "/lines/{id}", tag: "orders", does: "One line",
	}, func(ctx context.Context, in *lineInput) (*revAnswer[lineBody], error) {
		l, err := r.Books.Line(ctx, in.ID)
		return told(lineOf(&l), l.Rev, err)
	})
	add(r, operation{
		name: "add-line", may: "change-orders", method: "POST", path: "/orders/{id}/lines", tag: "orders", status: http.StatusCreated,
		does: "Add a line to an order", more: "If-Match is the order's ETag.", orders: true,
	}, r.addLine)
	add(r, operation{
		name: "change-line", may: "change-orders", method: "PUT", path: "/lines/{id}", tag: "orders", does: "Give a line other terms",
	}, r.changeLine)
	add(r, operation{
		name: "cancel-line", may: "change-orders", method: "POST", path: "/lines/{id}/cancel", tag: "orders", status: http.StatusOK,
		does: "Cancel what is open of a line",
	}, func(ctx context.Context, in *cancelInput) (*revAnswer[lineBody], error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		l, err := r.Books.CancelLine(ctx, in.ID, rev)
		return told(lineOf(&l), l.Rev, err)
	})
	add(r, operation{
		name: "enter-restock", may: "change-restock", method: "POST", path: "/restock", tag: "restock", status: http.StatusCreated,
		does: "Ask for sets for the shelf, of no order and no claim", orders: true,
	}, func(ctx context.Context, in *restockInput) (*madeAnswer[lineBody], error) {
		return madeLine(r.Books.EnterRestock(in.in(ctx), in.Body.terms()))
	})
}

func (r *routes) listLines(ctx context.Context, in *linesInput) (*listAnswer[lineBody], error) {
	f := store.LineFilter{
		Order: in.Order, Dealer: in.Dealer, Product: in.Product, Kind: in.Kind, Text: in.Text, Open: in.Open, Held: in.Held, After: in.After, Limit: in.Limit,
	}
	if in.DueUntil != "" {
		f.DueUntil = new(shop.Date)
		if err := f.DueUntil.UnmarshalText([]byte(in.DueUntil)); err != nil {
			return nil, wrong("query.due_until", err.Error())
		}
	}
	list, err := r.Books.Lines(ctx, f)
	return paged(in.Page, list, err, lineOf, func(l *store.Line) string { return l.ID })
}

func (r *routes) addLine(ctx context.Context, in *addLineInput) (*madeAnswer[lineBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	return madeLine(r.Books.AddLine(in.in(ctx), in.ID, in.Body.terms(), rev))
}

func (r *routes) changeLine(ctx context.Context, in *changeLineInput) (*revAnswer[lineBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	l, err := r.Books.ChangeLine(ctx, in.ID, in.Body.terms(), rev)
	return told(lineOf(&l), l.Rev, err)
}

func madeLine(l store.Line, err error) (*madeAnswer[lineBody], error) {
	if err != nil {
		return nil, err
	}
	return &madeAnswer[lineBody]{Location: Base + "/lines/" + url.PathEscape(l.ID), ETag: etag(l.Rev), Body: lineOf(&l)}, nil
}

func (t lineTerms) terms() store.LineTerms {
	return store.LineTerms{Product: t.Product, Quantity: t.Quantity, Due: t.Due, Weight: t.Weight, Promised: t.Promised}
}

func lineOf(l *store.Line) lineBody {
	return lineBody{
		ID: l.ID, Kind: l.Kind, Order: l.Order, Claim: l.Claim, Dealer: l.Dealer, Level: l.Level, Product: l.Product,
		Quantity: l.Quantity, Shipped: l.Shipped, Cancelled: l.Cancelled, Open: l.Open(),
		Due: l.Due, Promised: l.Promised, Weight: l.Weight, Complete: l.Complete, Hold: holdOf(l.Hold), Rev: l.Rev,
	}
}
