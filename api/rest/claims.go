package rest

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A claimBody is a warranty claim as the interface tells it.
type claimBody struct {
	ID      string    `json:"id"`
	Product string    `json:"product"`
	Sold    shop.Date `json:"sold" format:"date"`
	Failed  shop.Date `json:"failed" format:"date"`
	Reason  string    `json:"reason"`
	Note    string    `json:"note"`
	Entered time.Time `json:"entered"`
	Line    string    `json:"line" doc:"The line that replaces the blank"`
}

type claimsInput struct {
	Product string `query:"product" maxLength:"200"`
	Page
}

type claimInput struct {
	ID string `path:"id" maxLength:"200"`
}

type claimAnswer struct{ Body claimBody }

type enterClaimInput struct {
	Once
	Body struct {
		Product string     `json:"product" minLength:"1" maxLength:"200"`
		Sold    shop.Date  `json:"sold" format:"date"`
		Failed  shop.Date  `json:"failed" format:"date"`
		Reason  string     `json:"reason" minLength:"1" maxLength:"200" doc:"How it failed"`
		Note    string     `json:"note,omitempty" maxLength:"2000"`
		Due     *shop.Date `json:"due,omitempty" format:"date" doc:"Of the replacement; absent: in two weeks"`
		Weight  *float64   `json:"weight,omitempty" minimum:"0" maximum:"1000000000" doc:"Of the replacement; absent: 1"`
	}
}

func claims(r *routes) {
	add(r, operation{
		name: "list-claims", may: "read-demand", method: "GET", path: "/claims", tag: "restock", does: "Warranty claims, the newest first",
	}, func(ctx context.Context, in *claimsInput) (*listAnswer[claimBody], error) {
		list, err := r.Books.Claims(ctx, store.ClaimFilter{Product: in.Product, After: in.After, Limit: in.Limit})
		return paged(in.Page, list, err, claimOf, func(c *store.Claim) string { return c.ID })
	})
	add(r, operation{
		name: "read-claim", may: "read-demand", method: "GET", path: "/claims/{id}", tag: "restock", does: "One claim",
	}, func(ctx context.Context, in *claimInput) (*claimAnswer, error) {
		c, err := r.Books.Claim(ctx, in.ID)
		return &claimAnswer{claimOf(&c)}, err
	})
	add(r, operation{
		name: "enter-claim", may: "change-restock", method: "POST", path: "/claims", tag: "restock", status: http.StatusCreated,
		does: "Enter a warranty claim", more: "It makes a line of demand for the blank's replacement.",
	}, r.enterClaim)
}

func (r *routes) enterClaim(ctx context.Context, in *enterClaimInput) (*madeAnswer[claimBody], error) {
	c, err := r.Books.EnterClaim(in.in(ctx), store.NewClaim{
		Product: in.Body.Product, Sold: in.Body.Sold, Failed: in.Body.Failed, Reason: in.Body.Reason, Note: in.Body.Note,
		Due: in.Body.Due, Weight: in.Body.Weight,
	})
	if err != nil {
		return nil, err
	}
	return &madeAnswer[claimBody]{Location: Base + "/claims/" + url.PathEscape(c.ID), Body: claimOf(&c)}, nil
}

func claimOf(c *store.Claim) claimBody {
	return claimBody{
		ID: c.ID, Product: c.Product, Sold: c.Sold, Failed: c.Failed, Reason: c.Reason, Note: c.Note, Entered: c.Entered, Line: c.Line,
	}
}
