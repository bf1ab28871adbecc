package rest

import (
	"context"
	"net/http"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"

	"blankwright/api/access"
	"blankwright/api/respond"
)

// An operation is one method at one path.
type operation struct {
	name   string // its id
	may    string // its row in the table of access, where that is not its name
	method string
	path   string // below Base
	tag    string // the resource, for the document
	does   string // one line for the document
	more   string // what else to know, where there is more
	status int    // of success, where it is neither 200 nor 204
	// mostBytes limits the body, where it may be more than a megabyte.
	mostBytes int64
	// shape changes the operation's document before it is added.
	shape func(*huma.Operation)
	// orders says that it asks for an order or lines: its input's Resolve says
	// which, so that they are judged even where the form is refused.
	orders bool
}

// add puts an operation into the interface. Its handler gets what was sent,
// well formed, and returns what to answer; its errors become problems.
func add[I, O any](r *routes, o operation, handle func(context.Context, *I) (*O, error)) {
	if o.may == "" {
		o.may = o.name
	}
	r.Gate.Record(o.method, Base+ginPath.Replace(o.path), o.may)
	op := huma.Operation{
		OperationID: o.name, Method: o.method, Path: o.path, Tags: []string{o.tag},
		Summary: o.does, Description: o.more, DefaultStatus: o.status, MaxBodyBytes: o.mostBytes,
		Errors:      statuses(o, reflect.TypeFor[I]()),
		Security:    []map[string][]string{{"token": {}}, {"session": {}}},
		Middlewares: huma.Middlewares{r.guard(o.may)},
	}
	if access.ForEveryone(o.may) {
		op.Security = []map[string][]string{{}}
	}
	if o.orders {
		op.Middlewares = append(op.Middlewares, r.remembered)
	}
	if o.shape != nil {
		o.shape(&op)
	}
	huma.Register(r.api, op, func(ctx context.Context, in *I) (*O, error) {
		out, err := handle(ctx, in)
		if err != nil {
			return nil, respond.Of(ctx, r.Log, err)
		}
		return out, nil
	})
}

// ginPath writes a path's parameters as gin does.
var ginPath = strings.NewReplacer("{", ":", "}", "")

// statuses lists those besides success that an operation may answer with.
func statuses(o operation, in reflect.Type) []int {
	list := []int{
		http.StatusBadRequest, http.StatusUnauthorized, http.StatusForbidden, http.StatusNotFound, http.StatusConflict,
		http.StatusUnprocessableEntity, http.StatusTooManyRequests, http.StatusServiceUnavailable,
	}
	if o.method != http.MethodGet {
		list = append(list, http.StatusRequestTimeout, http.StatusRequestEntityTooLarge, http.StatusUnsupportedMediaType)
	}
	if f, ok := in.FieldByName("IfMatch"); ok && f.Tag.Get("header") != "" {
		list = append(list, http.StatusPreconditionFailed, http.StatusPreconditionRequired)
	}
	return list
}

// guard lets an operation's callers in, and no one else.
func (r *routes) guard(operation string) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		if p := r.Gate.Refuse(ctx.Context(), operation); p != nil {
			access.Deny(humagin.Unwrap(ctx).Writer, p)
			return
		}
		next(ctx)
	}
}
