package rest

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/store"
)

// An orderBody is an order with its lines, as the interface tells it.
type orderBody struct {
	ID        string     `json:"id"`
	Dealer    string     `json:"dealer" doc:"Empty for an order that came with a shop file"`
	Reference string     `json:"reference" doc:"The dealer's own number"`
	Complete  bool       `json:"complete" doc:"Its lines ship together"`
	Note      string     `json:"note"`
	Entered   time.Time  `json:"entered"`
	Open      bool       `json:"open" doc:"Something of it is still to ship"`
	Rev       int64      `json:"rev" doc:"Changes with its lines, too"`
	Lines     []lineBody `json:"lines"`
}

// An OrderTerms is what holds for all of an order. It is exported for huma,
// which looks into no other embedded types.
type OrderTerms struct {
	Dealer    string `json:"dealer" minLength:"1" maxLength:"200"`
	Reference string `json:"reference,omitempty" maxLength:"200" doc:"The dealer's own number"`
	Complete  *bool  `json:"complete,omitempty" doc:"All lines ship together; absent: the dealer's way, or what it was"`
	Note      string `json:"note,omitempty" maxLength:"2000"`
}

type enterOrderInput struct {
	Once
	Body enterOrderBody
}

type enterOrderBody struct {
	ID string `json:"id,omitempty" maxLength:"200" doc:"Absent: the books give it one"`
	OrderTerms
	Lines []lineTerms `json:"lines" minItems:"1" maxItems:"1000"`
}

func (b *enterOrderBody) order() store.NewOrder {
	asked := store.NewOrder{ID: b.ID, OrderTerms: b.terms()}
	for _, l := range b.Lines {
		asked.Lines = append(asked.Lines, l.terms())
	}
	return asked
}

// Resolve is called by huma, whatever the form's problems.
func (in *enterOrderInput) Resolve(ctx huma.Context) []error { return asks(ctx, in.Body.order(), "") }

type ordersInput struct {
	Dealer  string `query:"dealer" maxLength:"200"`
	Product string `query:"product" maxLength:"200" doc:"That a line is for"`
	Text    string `query:"text" maxLength:"200" doc:"Within the order's id or reference, the dealer's id or name, or a product's id"`
	Open    bool   `query:"open" doc:"Only those with something still to ship"`
	Page
}

type orderInput struct {
	ID string `path:"id" maxLength:"200"`
}

type changeOrderInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
	Body OrderTerms
}

type cancelInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
}

func orders(r *routes) {
	add(r, operation{
		name: "list-orders", may: "read-demand", method: "GET", path: "/orders", tag: "orders", does: "Orders, the newest first",
	}, r.listOrders)
	add(r, operation{
		name: "enter-order", may: "change-orders", method: "POST", path: "/orders", tag: "orders", status: http.StatusCreated,
		does: "Enter a dealer's order with its lines", orders: true,
	}, r.enterOrder)
	add(r, operation{
		name: "read-order", may: "read-demand", method: "GET", path: "/orders/{id}", tag: "orders", does: "One order with its lines",
	}, func(ctx context.Context, in *orderInput) (*revAnswer[orderBody], error) {
		o, err := r.Books.Order(ctx, in.ID)
		return told(orderOf(&o), o.Rev, err)
	})
	add(r, operation{
		name: "change-order", may: "change-orders", method: "PUT", path: "/orders/{id}", tag: "orders",
		does: "Give an order other terms", more: "Its lines stay, but that whether it ships complete is then so for all of them.",
	}, r.changeOrder)
	add(r, operation{
		name: "cancel-order", may: "change-orders", method: "POST", path: "/orders/{id}/cancel", tag: "orders",
		does: "Cancel all that is open of an order", status: http.StatusOK,
	}, func(ctx context.Context, in *cancelInput) (*revAnswer[orderBody], error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		o, err := r.Books.CancelOrder(ctx, in.ID, rev)
		return told(orderOf(&o), o.Rev, err)
	})
}

func (r *routes) listOrders(ctx context.Context, in *ordersInput) (*listAnswer[orderBody], error) {
	list, err := r.Books.Orders(ctx, store.OrderFilter{
		Dealer: in.Dealer, Product: in.Product, Text: in.Text, Open: in.Open, After: in.After, Limit: in.Limit,
	})
	return paged(in.Page, list, err, orderOf, func(o *store.Order) string { return o.ID })
}

func (r *routes) enterOrder(ctx context.Context, in *enterOrderInput) (*madeAnswer[orderBody], error) {
	o, err := r.Books.EnterOrder(in.in(ctx), in.Body.order())
	if err != nil {
		return nil, err
	}
	return &madeAnswer[orderBody]{Location: Base + "/orders/" + url.PathEscape(o.ID), ETag: etag(o.Rev), Body: orderOf(&o)}, nil
}

func (r *routes) changeOrder(ctx context.Context, in *changeOrderInput) (*revAnswer[orderBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	o, err := r.Books.ChangeOrder(ctx, in.ID, in.Body.terms(), rev)
	return told(orderOf(&o), o.Rev, err)
}

func (t OrderTerms) terms() store.OrderTerms {
	return store.OrderTerms{Dealer: t.Dealer, Reference: t.Reference, Complete: t.Complete, Note: t.Note}
}

func orderOf(o *store.Order) orderBody {
	body := orderBody{
		ID: o.ID, Dealer: o.Dealer, Reference: o.Reference, Complete: o.Complete, Note: o.Note,
		Entered: o.Entered, Open: o.Open(), Rev: o.Rev, Lines: make([]lineBody, len(o.Lines)),
	}
	for i := range o.Lines {
		body.Lines[i] = lineOf(&o.Lines[i])
	}
	return body
}
