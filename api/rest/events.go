package rest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"

	"blankwright/api/access"
	"blankwright/api/respond"
	"blankwright/store"
)

// The times of a stream. A client that takes nothing for streamPatience is
// given up; one that is silent is told every keepAlive that we are there.
const (
	keepAlive      = 20 * time.Second
	streamPatience = 30 * time.Second
	// streamTime ends a stream, so that its client comes back, and is asked
	// anew who it is.
	streamTime = 15 * time.Minute
	// eventsAtOnce is how many events are read and written in one go.
	eventsAtOnce = 100
)

type eventsInput struct {
	LastEventID string `header:"Last-Event-ID" doc:"The id of the last event that was seen: those after it come first"`
	After       string `query:"after" doc:"The same, for clients that can't set the header"`
}

// An event is what a stream tells of a change; the trail has the rest.
type event struct {
	ID   int64     `json:"id"`
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	Kind string    `json:"kind"`
	Of   string    `json:"of"`
	What string    `json:"what"`
}

func events(r *routes) {
	add(r, operation{
		name: "read-events", method: "GET", path: "/events", tag: "trail",
		does: "A stream of what changes in the books, as server-sent events",
		more: "Each event's data is {id, at, by, kind, of, what} as JSON. Without Last-Event-ID the stream begins with what comes next.",
		shape: func(o *huma.Operation) {
			o.Responses = map[string]*huma.Response{"200": {
				Description: "Events, until either side ends them",
				Content:     map[string]*huma.MediaType{"text/event-stream": {Schema: &huma.Schema{Type: "string"}}},
			}}
		},
	}, r.stream)
}

// stream begins a stream of events after the last one that the client has seen.
func (r *routes) stream(ctx context.Context, in *eventsInput) (*huma.StreamResponse, error) {
	last, err := r.begin(ctx, in)
	if err != nil {
		return nil, err
	}
	return &huma.StreamResponse{Body: func(h huma.Context) {
		w := humagin.Unwrap(h).Writer
		w.Header().Set("Content-Type", "text/event-stream")
		w.Header().Set("X-Accel-Buffering", "no") // a proxy shall pass events on at once
		w.WriteHeader(http.StatusOK)
		s := &eventStream{
			routes: r, w: w, control: http.NewResponseController(w), last: last,
			admin: access.From(ctx).May("list-accounts"),
		}
		if err := s.run(ctx); err != nil && ctx.Err() == nil {
			r.Log.WarnContext(ctx, "a stream of events ended", "error", err)
		}
	}}, nil
}

// begin returns the event after which a stream begins.
func (r *routes) begin(ctx context.Context, in *eventsInput) (int64, error) {
	text, place := in.LastEventID, "header.Last-Event-ID"
	if text == "" {
		text, place = in.After, "query.after"
	}
	if text == "" {
		return r.Books.LastEvent(ctx)
	}
	last, err := strconv.ParseInt(text, 10, 64)
	if err != nil || last < 0 {
		return 0, respond.New(http.StatusUnprocessableEntity, "1 problem",
			respond.Field{Location: place, Message: "is no id of an event, which is a whole number"})
	}
	return last, nil
}

// An eventStream is one client's stream.
type eventStream struct {
	*routes
	w       http.ResponseWriter
	control *http.ResponseController
	last    int64
	admin   bool // is told of accounts and tokens, too
}

// run writes events until the client goes, or the server stops.
func (s *eventStream) run(ctx context.Context) error {
	wake, stop := s.Books.Watch()
	defer stop()
	silent := time.NewTicker(keepAlive)
	defer silent.Stop()
	over := time.NewTimer(streamTime)
	defer over.Stop()
	if err := s.write([]byte("retry: 2000\n\n")); err != nil {
		return err
	}
	for {
		if err := s.catchUp(ctx); err != nil {
			return err
		}
		select {
		case <-ctx.Done():
			return nil
		case <-s.Stopping:
			return nil
		case <-over.C:
			return nil
		case <-wake:
		case <-silent.C:
			if err := s.write([]byte(": still here\n\n")); err != nil {
				return err
			}
		}
	}
}

// catchUp writes all events that are not written yet.
func (s *eventStream) catchUp(ctx context.Context) error {
	for {
		entries, err := s.Books.Events(ctx, s.last, eventsAtOnce)
		if err != nil || len(entries) == 0 {
			return err
		}
		var out bytes.Buffer
		for _, e := range entries {
			s.last = e.ID
			if s.admin || !ofAccess(e) {
				writeEvent(&out, e)
			}
		}
		if err := s.write(out.Bytes()); err != nil {
			return err
		}
	}
}

func writeEvent(out *bytes.Buffer, e store.Entry) {
	data, err := json.Marshal(event{ID: e.ID, At: e.At, By: e.Actor, Kind: e.Kind, Of: e.Of, What: e.What})
	if err != nil { // texts, a number and a time
		panic(err)
	}
	fmt.Fprintf(out, "id: %d\nevent: change\ndata: %s\n\n", e.ID, data)
}

// write sends bytes on at once, with a deadline of their own.
func (s *eventStream) write(text []byte) error {
	if err := s.control.SetWriteDeadline(time.Now().Add(streamPatience)); err != nil {
		return err
	}
	if _, err := s.w.Write(text); err != nil {
		return err
	}
	return s.control.Flush()
}
