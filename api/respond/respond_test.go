package respond_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/respond"
	"blankwright/api/runs"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// Of gives each error of the books its status, and tells nothing of any other.
func TestOf(t *testing.T) {
	wrapped := func(err error) error { return fmt.Errorf("put tape: %w", err) }
	problems := strict.Problems{{Path: "", Message: "a"}, {Path: "id", Message: "b"}, {Path: "[0].id", Message: "c"}}
	tests := []struct {
		name      string
		err       error
		status    int
		detail    string
		locations string
	}{
		{"not found", wrapped(fmt.Errorf("there is no tape: %w", store.ErrNotFound)), http.StatusNotFound, "there is no tape", ""},
		{"stale", wrapped(store.ErrStale), http.StatusPreconditionFailed, "read it again", ""},
		{"conflict", wrapped(fmt.Errorf("it is in use: %w", store.ErrConflict)), http.StatusConflict, "it is in use", ""},
		{"problems", wrapped(problems), http.StatusUnprocessableEntity, "3 problems", "body body.id body[0].id"},
		{"one problem", problems[:1], http.StatusUnprocessableEntity, "1 problem", "body"},
		{"a problem already", wrapped(respond.New(http.StatusTeapot, "short and stout")), http.StatusTeapot, "short", ""},
		{"too many plans", wrapped(runs.ErrBusy), http.StatusTooManyRequests, "waiting to be made", ""},
		{"stopping", wrapped(runs.ErrStopping), http.StatusServiceUnavailable, "begins no plan", ""},
		{"given up", wrapped(context.Canceled), http.StatusServiceUnavailable, "given up", ""},
		{"ours", errors.New("SQL logic error near /home/x"), http.StatusInternalServerError, "internal error", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var log bytes.Buffer
			ctx := respond.WithRequest(t.Context(), "r-1")
			p := respond.Of(ctx, slog.New(slog.NewTextHandler(&log, nil)), test.err)
			var locations []string
			for _, f := range p.Errors {
				locations = append(locations, f.Location)
			}
			if p.Status != test.status || !strings.Contains(p.Detail, test.detail) || strings.Join(locations, " ") != test.locations || p.Request != "r-1" {
				t.Errorf("%+v", p)
			}
			if ours := test.status == http.StatusInternalServerError; ours != strings.Contains(log.String(), "/home/x") {
				t.Errorf("the log says %q", log.String())
			}
		})
	}
}

// Write answers as RFC 9457 has it.
func TestWrite(t *testing.T) {
	w := httptest.NewRecorder()
	respond.Write(w, respond.New(http.StatusConflict, "in use", respond.Field{Location: "body.id", Message: "is taken"}))
	const want = `{"type":"about:blank","title":"Conflict","status":409,"detail":"in use","errors":[{"location":"body.id","message":"is taken"}]}` + "\n"
	if diff := cmp.Diff(want, w.Body.String()); diff != "" || w.Code != http.StatusConflict || w.Header().Get("Content-Type") != "application/problem+json" {
		t.Errorf("status %d, %v\n%s", w.Code, w.Header(), diff)
	}
}
