package respond

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"

	"blankwright/api/runs"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// Of makes any error a problem: those of the books and of runs by what they mean,
// a problem as it is, and all else as an internal error, of which the log tells
// and the answer does not.
func Of(ctx context.Context, log *slog.Logger, err error) *Problem {
	p := meant(err)
	if p == nil {
		log.ErrorContext(ctx, "internal error", "error", err)
		p = New(http.StatusInternalServerError, "internal error")
	}
	p.Request = Request(ctx)
	return p
}

// meant returns the problem that an error stands for, or nil where it is a
// mistake of ours.
func meant(err error) *Problem {
	var p *Problem
	var problems strict.Problems
	switch {
	case errors.As(err, &p):
		return p
	case errors.As(err, &problems):
		return ofProblems(problems)
	case errors.Is(err, store.ErrNotFound):
		return New(http.StatusNotFound, reason(err, store.ErrNotFound))
	case errors.Is(err, store.ErrStale):
		return New(http.StatusPreconditionFailed, "it was changed meanwhile: read it again, then change that")
	case errors.Is(err, store.ErrConflict):
		return New(http.StatusConflict, reason(err, store.ErrConflict))
	case errors.Is(err, runs.ErrStopping):
		return New(http.StatusServiceUnavailable, runs.ErrStopping.Error())
	case errors.Is(err, runs.ErrBusy):
		return New(http.StatusTooManyRequests, runs.ErrBusy.Error())
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return New(http.StatusServiceUnavailable, "the request was given up")
	}
	return nil
}

func ofProblems(problems strict.Problems) *Problem {
	detail := "1 problem"
	if len(problems) != 1 {
		detail = fmt.Sprintf("%d problems", len(problems))
	}
	p := New(http.StatusUnprocessableEntity, detail)
	for _, problem := range problems {
		p.Errors = append(p.Errors, Field{Location: within("body", problem.Path), Message: problem.Message})
	}
	return p
}

// within puts a path below where the text that it belongs to was sent.
func within(place, path string) string {
	if path == "" || path[0] == '[' {
		return place + path
	}
	return place + "." + path
}

// reason returns what the books said of a kind of error, without the names of
// the operations that it came through.
func reason(err, kind error) string {
	for e := err; e != nil; e = errors.Unwrap(e) {
		if errors.Unwrap(e) == kind { //nolint:errorlint // the very last wrapping is looked for
			return e.Error()
		}
	}
	return err.Error()
}
