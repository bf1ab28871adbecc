package rest

import (
	"context"
	"time"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A tickBody says when the books are planned by themselves.
type tickBody struct {
	On          bool       `json:"on"`
	At          string     `json:"at" doc:"On the shop's own clock" example:"15:00"`
	ReleaseDays int        `json:"release_days" doc:"Of how many working days after it the tick releases the work; 0: its plan stays a proposal"`
	Since       time.Time  `json:"since" doc:"From when on ticks are due"`
	Next        *time.Time `json:"next,omitempty" doc:"When the next one is due; absent where it is off, or no working day is known"`
	Rev         int64      `json:"rev"`
}

type tickAnswer struct {
	ETag string `header:"ETag"`
	Body tickBody
}

type changeTickInput struct {
	Match
	Body struct {
		On          *bool   `json:"on,omitempty"`
		At          *string `json:"at,omitempty" pattern:"^([01][0-9]|2[0-3]):[0-5][0-9]$" doc:"HH:MM, from 00:00 to 23:59" example:"15:00"`
		ReleaseDays *int    `json:"release_days,omitempty" minimum:"0" maximum:"30"`
	}
}

type ticksInput struct {
	Limit int `query:"limit" minimum:"1" maximum:"500" default:"30"`
}

// A pastTickBody is what became of one tick.
type pastTickBody struct {
	Due     time.Time  `json:"due"`
	State   string     `json:"state" enum:"running,done,failed"`
	BegunAt time.Time  `json:"begun_at"`
	EndedAt *time.Time `json:"ended_at,omitempty"`
	Plan    int64      `json:"plan,omitempty"`
	Failure string     `json:"failure,omitempty"`
}

func tick(r *routes) {
	add(r, operation{
		name: "read-tick", may: "read-plans", method: "GET", path: "/tick", tag: "tick", does: "When the books are planned by themselves",
		more: "On each working day of the shipping calendar, once. A time that the clocks skip or have twice has one tick, too.",
	}, func(ctx context.Context, _ *struct{}) (*tickAnswer, error) {
		return r.answerTick(ctx)(r.Books.TickSettings(ctx))
	})
	add(r, operation{
		name: "change-tick", method: "PATCH", path: "/tick", tag: "tick", does: "Change when the books are planned by themselves",
		more: "What is not named stays as it is.",
	}, r.changeTick)
	add(r, operation{
		name: "list-ticks", may: "read-plans", method: "GET", path: "/ticks", tag: "tick", does: "What became of the last ticks",
	}, r.listTicks)
}

func (r *routes) changeTick(ctx context.Context, in *changeTickInput) (*tickAnswer, error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	change := store.TickChange{On: in.Body.On, ReleaseDays: in.Body.ReleaseDays}
	if in.Body.At != nil {
		var at shop.Clock
		if err := at.UnmarshalText([]byte(*in.Body.At)); err != nil {
			return nil, err
		}
		change.At = &at
	}
	return r.answerTick(ctx)(r.Books.ChangeTick(ctx, rev, change))
}

func (r *routes) answerTick(ctx context.Context) func(store.TickSettings, error) (*tickAnswer, error) {
	return func(s store.TickSettings, err error) (*tickAnswer, error) {
		if err != nil {
			return nil, err
		}
		next, err := runs.Desk{Books: r.Books}.NextTick(ctx, s, r.Now())
		if err != nil {
			return nil, err
		}
		body := tickBody{On: s.On, At: s.At.String(), ReleaseDays: s.ReleaseDays, Since: s.Since, Next: when(next), Rev: s.Rev}
		return &tickAnswer{ETag: etag(s.Rev), Body: body}, nil
	}
}

func (r *routes) listTicks(ctx context.Context, in *ticksInput) (*listAnswer[pastTickBody], error) {
	list, err := r.Books.Ticks(ctx, in.Limit)
	return listed(list, err, func(t *store.Tick) pastTickBody {
		return pastTickBody{Due: t.Due, State: t.State, BegunAt: t.BegunAt, EndedAt: when(t.EndedAt), Plan: t.Plan, Failure: t.Failure}
	})
}
