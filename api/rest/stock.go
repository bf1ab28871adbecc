package rest

import (
	"context"
	"net/http"
	"time"

	"blankwright/store"
)

// A holdingBody is what there is of a product, and what is asked of it.
type holdingBody struct {
	Product string `json:"product"`
	OnHand  int    `json:"on_hand"`
	Wanted  int    `json:"wanted" doc:"By open lines, but for what the level itself asks"`
	Level   int    `json:"level" doc:"What should lie there beyond that"`
	Kept    int    `json:"kept" doc:"Kept back for the level"`
	Short   int    `json:"short" doc:"Missing of the level: it is demand"`
}

// A moveBody is one move of stock.
type moveBody struct {
	ID      int64     `json:"id"`
	At      time.Time `json:"at"`
	By      string    `json:"by"`
	Product string    `json:"product"`
	Sets    int       `json:"sets" doc:"Sets that came; below 0, that went"`
	Why     string    `json:"why" doc:"As opening, trimmed, shipped, not sent, counted, scrapped or returned"`
	Ref     string    `json:"ref,omitempty" doc:"What it is about, as a shipment's id"`
	Note    string    `json:"note,omitempty"`
}

type movesInput struct {
	Product string `query:"product" maxLength:"200"`
	Why     string `query:"why" maxLength:"60"`
	Older
}

type moveStockInput struct {
	Once
	Body struct {
		Product string `json:"product" minLength:"1" maxLength:"200"`
		Sets    int    `json:"sets" minimum:"-1000000000" maximum:"1000000000" doc:"Sets that came; below 0, that went. Of a count, the difference to what the books have"`
		Why     string `json:"why" enum:"counted,scrapped,returned"`
		Note    string `json:"note,omitempty" maxLength:"2000"`
	}
}

type moveAnswer struct{ Body moveBody }

func stock(r *routes) {
	add(r, operation{
		name: "list-stock", may: "read-demand", method: "GET", path: "/stock", tag: "restock", does: "What there is of each product, and what is asked of it",
	}, func(ctx context.Context, _ *nothing) (*listAnswer[holdingBody], error) {
		list, err := r.Books.Stock(ctx)
		return listed(list, err, holdingOf)
	})
	add(r, operation{
		name: "list-stock-moves", may: "read-demand", method: "GET", path: "/stock/moves", tag: "restock",
		does: "Why stock is what it is: its moves, the newest first",
	}, func(ctx context.Context, in *movesInput) (*listAnswer[moveBody], error) {
		list, err := r.Books.StockMoves(ctx, store.StockFilter{Product: in.Product, Why: in.Why, Before: in.After, Limit: in.Limit})
		return older(in.Older, list, err, moveOfStock, func(m *store.StockMove) int64 { return m.ID })
	})
	add(r, operation{
		name: "move-stock", method: "POST", path: "/stock/moves", tag: "restock", status: http.StatusCreated,
		does: "State that sets were counted, scrapped or returned",
	}, func(ctx context.Context, in *moveStockInput) (*moveAnswer, error) {
		m, err := r.Books.MoveStock(in.in(ctx), in.Body.Product, in.Body.Sets, in.Body.Why, in.Body.Note)
		return &moveAnswer{moveOfStock(&m)}, err
	})
}

func holdingOf(h *store.Holding) holdingBody {
	return holdingBody{Product: h.Product, OnHand: h.OnHand, Wanted: h.Wanted, Level: h.Level, Kept: h.Kept, Short: h.Short}
}

func moveOfStock(m *store.StockMove) moveBody {
	return moveBody{ID: m.ID, At: m.At, By: m.Actor, Product: m.Product, Sets: m.Sets, Why: m.Why, Ref: m.Ref, Note: m.Note}
}
