package rest

import (
	"context"
	"time"

	"blankwright/store"
)

// A noticeBody is one thing that needs eyes.
type noticeBody struct {
	ID       int64      `json:"id"`
	Kind     string     `json:"kind" enum:"late,promise,mandrels,expires,runs out,tool,overtaken,failed"`
	Subject  string     `json:"subject" doc:"What it is about: a line, a type of mandrel, a roll, a mandrel"`
	Text     string     `json:"text"`
	Plan     int64      `json:"plan,omitempty" doc:"That raised it, or changed its text"`
	RaisedAt time.Time  `json:"raised_at"`
	SeenAt   *time.Time `json:"seen_at,omitempty"`
	SeenBy   string     `json:"seen_by,omitempty"`
	GoneAt   *time.Time `json:"gone_at,omitempty" doc:"When a plan no longer raised it"`
}

type noticeAnswer struct{ Body noticeBody }

type noticesInput struct {
	Unseen bool `query:"unseen" doc:"Only those that nobody has seen"`
	Gone   bool `query:"gone" doc:"Those that are over, too"`
	Older
}

func notices(r *routes) {
	add(r, operation{
		name: "list-notices", may: "read-notices", method: "GET", path: "/notices", tag: "notices", does: "What needs eyes",
		more: "Each plan that is kept says anew what does: late lines, promises that moved, mandrels and prepreg that are short, tools that are due, work that cannot happen.",
	}, r.listNotices)
	add(r, operation{
		name: "see-notice", method: "POST", path: "/notices/{id}/seen", tag: "notices",
		does: "Say that a notice was seen", more: "It counts as unseen again when its text changes.",
	}, r.seeNotice)
}

func (r *routes) listNotices(ctx context.Context, in *noticesInput) (*listAnswer[noticeBody], error) {
	list, err := r.Books.Notices(ctx, store.NoticeFilter{Unseen: in.Unseen, Gone: in.Gone, Limit: in.Limit, After: in.After})
	return older(in.Older, list, err, noticeOf, func(n *store.Notice) int64 { return n.ID })
}

func (r *routes) seeNotice(ctx context.Context, in *numbered) (*noticeAnswer, error) {
	n, err := r.Books.SeeNotice(ctx, in.ID)
	return &noticeAnswer{noticeOf(&n)}, err
}

func noticeOf(n *store.Notice) noticeBody {
	return noticeBody{
		ID: n.ID, Kind: n.Kind, Subject: n.Subject, Text: n.Text, Plan: n.Plan, RaisedAt: n.RaisedAt,
		SeenAt: when(n.SeenAt), SeenBy: n.SeenBy, GoneAt: when(n.GoneAt),
	}
}
