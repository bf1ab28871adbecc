package main

import (
	"context"
	"fmt"

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
	return books.Import(ctx, ternpoint.Shop(shop.DateOf(w.now())).Encode())
}
