package rest

import (
	"context"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/respond"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// Once is what a request may say so that it happens once, however often it is
// sent. It is exported for huma, which looks into no other embedded types.
type Once struct {
	Key string `header:"Idempotency-Key" maxLength:"100" doc:"The same key again, by the same caller with the same body, does nothing and gets the first answer"`
}

// in has the books know the key.
func (o Once) in(ctx context.Context) context.Context {
	if o.Key == "" {
		return ctx
	}
	return store.WithKey(ctx, o.Key)
}

// stale documents an operation whose body may say which revisions it saw.
func stale(o *huma.Operation) { o.Errors = append(o.Errors, http.StatusPreconditionFailed) }

// inQuery tells of what the books find wrong with a parameter of the query.
func inQuery(err error, parameter string) error {
	var problems strict.Problems
	if !errors.As(err, &problems) {
		return err
	}
	p := respond.New(http.StatusUnprocessableEntity, "the query has problems")
	for _, problem := range problems {
		p.Errors = append(p.Errors, respond.Field{Location: "query." + parameter, Message: problem.Message})
	}
	return p
}
