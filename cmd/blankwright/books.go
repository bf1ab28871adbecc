package main

import (
	"context"
	"errors"
	"flag"
	"io/fs"

	"blankwright/scheduler/strict"
	"blankwright/store"
)

// A booksOption says where the shop's books are.
type booksOption struct{ folder string }

func (o *booksOption) bind(set *flag.FlagSet) {
	set.StringVar(&o.folder, "data", "blankwright-data", "keep the books in `DIR`")
}

// open opens the books to change them, or makes them.
func (o *booksOption) open(ctx context.Context, w *world) (*store.Books, error) {
	books, err := store.Open(ctx, o.folder, store.Options{Now: w.now})
	return books, o.refused(err)
}

// look opens the books to read them, beside a server that has them open.
func (o *booksOption) look(ctx context.Context, w *world) (*store.Books, error) {
	books, err := store.OpenToRead(ctx, o.folder, store.Options{Now: w.now})
	return books, o.refused(err)
}

// refused turns what the books may refuse into bad input; anything else is a
// mistake of ours, or the machine's.
func (o *booksOption) refused(err error) error {
	var problems strict.Problems
	switch {
	case err == nil, errors.As(err, &problems):
		return err
	case errors.Is(err, fs.ErrNotExist):
		return bad("there are no books in %s; `blankwright serve -data %s` or `import` makes them", o.folder, o.folder)
	case errors.Is(err, store.ErrInUse):
		return bad("%v: a server serves them; stop it, or ask it", err)
	case errors.Is(err, store.ErrNewer), errors.Is(err, store.ErrConflict), errors.Is(err, fs.ErrPermission):
		return bad("%v", err)
	}
	return err
}

// closing closes books after use and joins what goes wrong then.
func closing(books *store.Books, err *error) { *err = errors.Join(*err, books.Close()) }

// byHand marks changes that a command makes, for the trail.
func byHand(ctx context.Context) context.Context { return store.WithActor(ctx, "command line") }
