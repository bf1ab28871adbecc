package respond

import "context"

type requestKey struct{}

// WithRequest keeps a request's id in its context, for problems and the log.
func WithRequest(ctx context.Context, id string) context.Context {
	return context.WithValue(ctx, requestKey{}, id)
}

// Request returns the id of the request that a context belongs to, or "".
func Request(ctx context.Context) string {
	id, _ := ctx.Value(requestKey{}).(string)
	return id
}
