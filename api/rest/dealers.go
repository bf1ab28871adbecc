package rest

import (
	"context"

	"blankwright/store"
)

// A dealerBody is a dealer as the interface tells it.
type dealerBody struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Weight   float64 `json:"weight"`
	Complete bool    `json:"complete"`
	Note     string  `json:"note"`
	Rev      int64   `json:"rev"`
}

type dealerInput struct {
	ID string `path:"id" maxLength:"200"`
}

type putDealerInput struct {
	ID string `path:"id" maxLength:"200"`
	Fresh
	Body struct {
		Name     string  `json:"name" minLength:"1" maxLength:"200"`
		Weight   float64 `json:"weight,omitempty" minimum:"0" maximum:"1000000000" default:"1" doc:"Of the dealer's lines that state none"`
		Complete bool    `json:"complete,omitempty" doc:"The dealer's orders ship complete, unless one says otherwise"`
		Note     string  `json:"note,omitempty" maxLength:"2000"`
	}
}

type removeDealerInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
}

func dealers(r *routes) {
	add(r, operation{
		name: "list-dealers", method: "GET", path: "/dealers", tag: "orders", does: "All dealers, by id",
	}, func(ctx context.Context, _ *nothing) (*listAnswer[dealerBody], error) {
		list, err := r.Books.Dealers(ctx)
		return listed(list, err, dealerOf)
	})
	add(r, operation{
		name: "read-dealer", method: "GET", path: "/dealers/{id}", tag: "orders", does: "One dealer",
	}, func(ctx context.Context, in *dealerInput) (*revAnswer[dealerBody], error) {
		d, err := r.Books.Dealer(ctx, in.ID)
		return told(dealerOf(&d), d.Rev, err)
	})
	add(r, operation{
		name: "put-dealer", method: "PUT", path: "/dealers/{id}", tag: "orders", does: "Make or change a dealer",
	}, r.putDealer)
	add(r, operation{
		name: "remove-dealer", method: "DELETE", path: "/dealers/{id}", tag: "orders", does: "Remove a dealer who has no orders",
	}, func(ctx context.Context, in *removeDealerInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveDealer(ctx, in.ID, rev)
	})
}

func (r *routes) putDealer(ctx context.Context, in *putDealerInput) (*revAnswer[dealerBody], error) {
	rev, err := in.seen()
	if err != nil {
		return nil, err
	}
	terms := store.DealerTerms{Name: in.Body.Name, Weight: in.Body.Weight, Complete: in.Body.Complete, Note: in.Body.Note}
	d, err := r.Books.PutDealer(ctx, in.ID, terms, rev)
	return told(dealerOf(&d), d.Rev, err)
}

func dealerOf(d *store.Dealer) dealerBody {
	return dealerBody{ID: d.ID, Name: d.Name, Weight: d.Weight, Complete: d.Complete, Note: d.Note, Rev: d.Rev}
}
