package access

import "context"

type callerKey struct{}

// WithCaller keeps who asks in the context of a request.
func WithCaller(ctx context.Context, c Caller) context.Context {
	return context.WithValue(ctx, callerKey{}, c)
}

// From returns who asks: nobody where that is not known.
func From(ctx context.Context) Caller {
	c, _ := ctx.Value(callerKey{}).(Caller)
	return c
}
