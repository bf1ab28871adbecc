package rest

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/respond"
	"blankwright/store"
)

// askedKey is under which a request's context holds what it asks for.
type askedKey struct{}

// asked is an order, or lines of one, as far as it could be read. Where the form
// of the request is refused, what the books do not know of it is told as well.
type asked struct {
	books *store.Books
	order store.NewOrder
	strip string // of the books' paths, to make them the body's
	known bool   // there is an order
}

// remembered has a request remember what it asks for; its input's Resolve says it.
func (r *routes) remembered(ctx huma.Context, next func(huma.Context)) {
	next(huma.WithValue(ctx, askedKey{}, &asked{books: r.Books}))
}

// asks notes what a request asks for.
func asks(ctx huma.Context, order store.NewOrder, strip string) []error {
	if a, ok := ctx.Context().Value(askedKey{}).(*asked); ok {
		a.order, a.strip, a.known = order, strip, true
	}
	return nil
}

// besides adds to what is wrong with a request's form what the books do not know
// of what it asks for, where the form left anything to ask about.
func besides(ctx context.Context, p *respond.Problem) {
	a, ok := ctx.Value(askedKey{}).(*asked)
	if !ok || !a.known || p.Status != http.StatusUnprocessableEntity {
		return
	}
	unknown, err := a.books.UnknownIn(ctx, a.order)
	if err != nil {
		return // what is wrong with the form is told all the same
	}
	for _, u := range unknown {
		at := "body." + strings.TrimPrefix(u.Path, a.strip)
		if !slices.ContainsFunc(p.Errors, func(f respond.Field) bool { return f.Location == at }) {
			p.Errors = append(p.Errors, respond.Field{Location: at, Message: u.Message})
		}
	}
}
