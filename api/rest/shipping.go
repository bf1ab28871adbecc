package rest

import (
	"context"
	"errors"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

type shippingInput struct {
	Order   string `query:"order" maxLength:"200"`
	Dealer  string `query:"dealer" maxLength:"200"`
	Product string `query:"product" maxLength:"200"`
	Text    string `query:"text" maxLength:"200" doc:"Within the id of the line, order, dealer or product"`
	Page
}

type shippingAnswer struct {
	Body struct {
		Plan  int64          `json:"plan,omitempty" doc:"The latest plan; absent where none was made yet"`
		Items []shippingBody `json:"items" doc:"The first due first"`
		Next  string         `json:"next,omitempty" doc:"Send it as after, for the next page; absent on the last"`
	}
}

// A shippingBody tells when an open line ships.
type shippingBody struct {
	Line      string      `json:"line"`
	Order     string      `json:"order,omitempty"`
	Dealer    string      `json:"dealer,omitempty"`
	Kind      string      `json:"kind" enum:"order,restock"`
	Product   string      `json:"product"`
	Open      int         `json:"open" doc:"Sets still to ship"`
	Due       shop.Date   `json:"due" format:"date"`
	Promised  *shop.Date  `json:"promised,omitempty" format:"date"`
	Hold      *holdBody   `json:"hold,omitempty" doc:"It is held back, so that the next plan does not know it; from its until on no longer"`
	Planned   bool        `json:"planned" doc:"The latest plan knows the line"`
	Ships     *shop.Date  `json:"ships,omitempty" format:"date" doc:"When the last planned set ships; absent where none does"`
	Parts     []runs.Part `json:"parts" doc:"Its sets by ship date, without those that were sent since"`
	Unplanned int         `json:"unplanned" doc:"Sets that the plan leaves out, or that were asked for since; with the parts they are all that is open"`
	AfterDue  *int        `json:"after_due,omitempty" doc:"Days from the due date to the ship date; below 0: early"`
	Moved     *int        `json:"moved,omitempty" doc:"Days from the promised date to the ship date"`
}

func shipping(r *routes) {
	add(r, operation{
		name: "list-shipping-dates", may: "read-plans", method: "GET", path: "/shipping-dates", tag: "plans",
		does: "When each open line ships by the latest plan", more: "Beside the date that it is due, and the one that was promised. A line that was entered since is not planned.",
	}, r.listShipping)
}

func (r *routes) listShipping(ctx context.Context, in *shippingInput) (*shippingAnswer, error) {
	lines, err := r.Books.Lines(ctx, store.LineFilter{
		Order: in.Order, Dealer: in.Dealer, Product: in.Product, Text: in.Text, Open: true, Limit: in.Limit, After: in.After,
	})
	if err != nil {
		return nil, err
	}
	answer := &shippingAnswer{}
	view, err := r.Runs.Views().Latest(ctx)
	switch {
	case errors.Is(err, store.ErrNotFound):
		view = &runs.View{}
	case err != nil:
		return nil, err
	}
	answer.Body.Plan, answer.Body.Items = view.ID, make([]shippingBody, len(lines))
	for i := range lines {
		answer.Body.Items[i] = shippingOf(&lines[i], view.Shipping(lines[i].ID))
	}
	if len(lines) == in.Limit {
		answer.Body.Next = lines[len(lines)-1].ID
	}
	return answer, nil
}

// shippingOf tells of a line, of which the plan may know nothing.
func shippingOf(l *store.Line, s *runs.Shipping) shippingBody {
	body := shippingBody{
		Line: l.ID, Order: l.Order, Dealer: l.Dealer, Kind: l.Kind, Product: l.Product, Open: l.Quantity - l.Shipped - l.Cancelled,
		Due: l.Due, Promised: l.Promised, Hold: holdOf(l.Hold), Parts: []runs.Part{},
	}
	if s == nil {
		return body
	}
	parts, unplanned := s.Left(body.Open)
	body.Planned, body.Unplanned, body.Parts = true, unplanned, append(body.Parts, parts...)
	if len(parts) == 0 {
		return body
	}
	body.Ships = s.Ship
	days := int(*s.Ship - l.Due)
	body.AfterDue = &days
	if l.Promised != nil {
		moved := int(*s.Ship - *l.Promised)
		body.Moved = &moved
	}
	return body
}
