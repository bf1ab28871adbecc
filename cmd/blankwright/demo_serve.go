package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"

	"blankwright/api"
	"blankwright/api/runs"
	"blankwright/cmd/blankwright/ternpoint"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// serve serves the demo's books in a folder to everybody on this machine; where
// there are none yet, it makes them and a plan of them.
func (o *demoOptions) serve(ctx context.Context, w *world, folder string) (err error) {
	in := booksOption{folder}
	books, err := in.open(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	if _, err := o.ready(ctx, w, books, ternpoint.Begun(w.now())); err != nil {
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

// planBooks makes the demo's books in a folder and a plan of them.
func (o *demoOptions) planBooks(ctx context.Context, w *world, folder string) (p *planned, err error) {
	in := booksOption{folder}
	books, err := in.open(ctx, w)
	if err != nil {
		return nil, err
	}
	defer closing(books, &err)
	p, err = o.ready(ctx, w, books, shop.DateOf(w.now()))
	return p, in.refused(err)
}

// ready fills empty books, as of a date, and has them planned once. It returns the plan, or nil
// where the books had one.
func (o *demoOptions) ready(ctx context.Context, w *world, books *store.Books, date shop.Date) (p *planned, err error) {
	ctx = store.WithActor(ctx, "demo")
	if err := seed(ctx, books, date); err != nil {
		return nil, err
	}
	if _, err := books.LatestPlan(ctx); !errors.Is(err, store.ErrNotFound) {
		return nil, err
	}
	manager := runs.NewManager(runs.Desk{Books: books}, runs.Options{
		Now: w.now, Log: slog.New(slog.DiscardHandler),
		Plan: func(ctx context.Context, s *shop.Shop, _ scheduler.Options) (*scheduler.Result, error) {
			if p, err = w.search(ctx, s, o.searchOptions); err != nil {
				return nil, err
			}
			return p.Result, nil
		},
	})
	run, _, failed := manager.Request(ctx, runs.Ask{Why: store.PlanByRequest})
	if failed != nil {
		return nil, failed
	}
	<-run.Done()
	if failure := run.Progress().Failure; err == nil && failure != "" {
		err = errors.New(failure)
	}
	return p, err
}

// seed fills empty books with Tern Point as of a date; books that hold a shop
// stay as they are.
func seed(ctx context.Context, books *store.Books, date shop.Date) error {
	settings, err := books.Things(ctx, "settings")
	if err != nil || len(settings) > 0 {
		return err
	}
	s := ternpoint.Shop(date)
	if err := books.Import(ctx, s.Encode()); err != nil {
		return err
	}
	return errors.Join(introduce(ctx, books), sayWraps(ctx, books, s))
}

// sayWraps gives the sections of Tern Point their wrap recipes, which a shop
// file does not hold.
func sayWraps(ctx context.Context, books *store.Books, s *shop.Shop) error {
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			if _, err := books.SetWrapRecipe(ctx, section.ID, store.WrapTerms(ternpoint.WrapOf(section)), store.MustBeNew); err != nil {
				return err
			}
		}
	}
	return nil
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
