package main

import (
	"context"
	"fmt"
	"strings"

	"blankwright/api"
	"blankwright/cmd/blankwright/ternpoint"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// serve makes the books of the demo's shop in a folder, where there are none
// yet, and serves them to everybody on this machine.
func (o *demoOptions) serve(ctx context.Context, w *world, folder string) (err error) {
	in := booksOption{folder}
	books, err := in.open(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	if err := seed(store.WithActor(ctx, "demo"), w, books); err != nil {
		return in.refused(err)
	}
	server, err := api.New(w.served(books, func(c *api.Config) { c.Open = true }))
	if err != nil {
		return err
	}
	return w.listen(ctx, server, o.addr, func(url string) string {
		return fmt.Sprintf("Tern Point's books, which are invented, are in %s\nand served to everybody on this machine at %s/\n", folder, url)
	})
}

// seed fills empty books with Tern Point as of today; books that hold a shop
// stay as they are.
func seed(ctx context.Context, w *world, books *store.Books) error {
	settings, err := books.Things(ctx, "settings")
	if err != nil || len(settings) > 0 {
		return err
	}
	if err := books.Import(ctx, ternpoint.Shop(shop.DateOf(w.now())).Encode()); err != nil {
		return err
	}
	return introduce(ctx, books)
}

// introduce makes the dealers of Tern Point, and gives each its orders, which
// a shop file knows by their numbers only.
func introduce(ctx context.Context, books *store.Books) error {
	dealers := map[string]string{}
	for _, d := range ternpoint.Dealers() {
		if _, err := books.PutDealer(ctx, d.ID, store.DealerTerms{Name: d.Name, Weight: 1}, store.MustBeNew); err != nil {
			return err
		}
		dealers[strings.ToUpper(d.ID)] = d.ID
	}
	orders, err := books.Orders(ctx, store.OrderFilter{})
	if err != nil {
		return err
	}
	for _, o := range orders {
		letters, _, _ := strings.Cut(o.ID, "-")
		if _, err := books.ChangeOrder(ctx, o.ID, store.OrderTerms{Dealer: dealers[letters]}, o.Rev); err != nil {
			return err
		}
	}
	return nil
}
