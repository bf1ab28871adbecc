package rest

import (
	"context"
	"encoding/json"
	"strconv"
	"time"

	"blankwright/api/access"
	"blankwright/store"
)

// An entryBody is one change on the trail.
type entryBody struct {
	ID      int64           `json:"id"`
	At      time.Time       `json:"at"`
	By      string          `json:"by"`
	Request string          `json:"request,omitempty" doc:"The id of the request that it came by"`
	Kind    string          `json:"kind" doc:"Of what it is, as order or oven"`
	Of      string          `json:"of" doc:"Whose id it is"`
	What    string          `json:"what" doc:"Was done"`
	From    json.RawMessage `json:"from,omitempty" doc:"What it was before; absent for what is new"`
	To      json.RawMessage `json:"to,omitempty" doc:"What it is after; absent for what is gone"`
}

type trailInput struct {
	Kind  string    `query:"kind" maxLength:"60"`
	Of    string    `query:"of" maxLength:"200"`
	By    string    `query:"by" maxLength:"80"`
	Since time.Time `query:"since" doc:"From this instant on"`
	Until time.Time `query:"until" doc:"Before this instant"`
	Older
}

func trail(r *routes) {
	add(r, operation{
		name: "read-trail", method: "GET", path: "/trail", tag: "trail", does: "Who changed what and when, from what to what, the newest first",
		more: "A page may tell less than asked for, as what is of accounts is for admins: the next goes on all the same.",
	}, r.readTrail)
}

func (r *routes) readTrail(ctx context.Context, in *trailInput) (*listAnswer[entryBody], error) {
	entries, err := r.Books.Trail(ctx, store.TrailFilter{
		Kind: in.Kind, Of: in.Of, Actor: in.By, Since: in.Since, Until: in.Until, Before: in.After, Limit: in.Limit,
	})
	answer := &listAnswer[entryBody]{listBody[entryBody]{Items: []entryBody{}}}
	if n := len(entries); n == in.Limit && n > 0 {
		answer.Body.Next = strconv.FormatInt(entries[n-1].ID, 10)
	}
	for _, e := range entries {
		if !ofAccess(e) || access.From(ctx).May("list-accounts") {
			answer.Body.Items = append(answer.Body.Items, entryBody{
				ID: e.ID, At: e.At, By: e.Actor, Request: e.Request, Kind: e.Kind, Of: e.Of, What: e.What, From: some(e.From), To: some(e.To),
			})
		}
	}
	return answer, err
}

// some returns a value that is there, and nothing for null.
func some(value json.RawMessage) json.RawMessage {
	if string(value) == "null" {
		return nil
	}
	return value
}

// ofAccess reports whether an entry is of those that admins alone see.
func ofAccess(e store.Entry) bool { return e.Kind == "account" || e.Kind == "token" }
