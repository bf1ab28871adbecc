package api

import (
	"context"
	"log/slog"

	"blankwright/api/respond"
)

// A requestLog adds the request's id to whatever is logged on its behalf.
type requestLog struct{ slog.Handler }

// Handle adds the id and hands the record on.
func (h requestLog) Handle(ctx context.Context, r slog.Record) error {
	if id := respond.Request(ctx); id != "" {
		r.AddAttrs(slog.String("request", id))
	}
	return h.Handler.Handle(ctx, r)
}

// WithAttrs keeps the id on loggers made from this one.
func (h requestLog) WithAttrs(attrs []slog.Attr) slog.Handler {
	return requestLog{h.Handler.WithAttrs(attrs)}
}

// WithGroup keeps the id on loggers made from this one.
func (h requestLog) WithGroup(name string) slog.Handler { return requestLog{h.Handler.WithGroup(name)} }
