package rest

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"blankwright/store"
)

// A releaseBody is what was frozen at once of a plan.
type releaseBody struct {
	ID     int64      `json:"id"`
	Plan   int64      `json:"plan,omitempty" doc:"Absent where a shop file brought the work along"`
	Until  time.Time  `json:"until" doc:"What begins before this instant was released"`
	At     time.Time  `json:"at"`
	By     string     `json:"by"`
	Undone *time.Time `json:"undone,omitempty" doc:"When it was undone; absent while it stands"`
	Loads  []string   `json:"loads"`
}

type releaseAnswer struct{ Body releaseBody }

type madeReleaseAnswer struct {
	Location string `header:"Location"`
	Body     releaseBody
}

type releaseInput struct {
	Once
	Body struct {
		Plan  int64     `json:"plan" minimum:"1" doc:"The plan's id"`
		Until time.Time `json:"until" doc:"Every load whose first task starts before is released, with all of its tasks"`
	}
}

func releases(r *routes) {
	add(r, operation{
		name: "make-release", may: "release", method: "POST", path: "/releases", tag: "floor", status: http.StatusCreated,
		does: "Release what of a plan begins before an instant",
		more: "It becomes the stations' queues, and every plan from then on keeps it. The plan is in force by that; it must know all work that is released already.",
	}, r.makeRelease)
	add(r, operation{
		name: "list-releases", may: "read-floor", method: "GET", path: "/releases", tag: "floor", does: "All releases",
	}, func(ctx context.Context, in *Older) (*listAnswer[releaseBody], error) {
		list, err := r.Books.Releases(ctx, in.After, in.Limit)
		return older(*in, list, err, releaseOf, func(r *store.Release) int64 { return r.ID })
	})
	add(r, operation{
		name: "read-release", may: "read-floor", method: "GET", path: "/releases/{id}", tag: "floor", does: "One release",
	}, func(ctx context.Context, in *numbered) (*releaseAnswer, error) {
		release, err := r.Books.OneRelease(ctx, in.ID)
		return &releaseAnswer{releaseOf(&release)}, err
	})
	add(r, operation{
		name: "undo-release", method: "DELETE", path: "/releases/{id}", tag: "floor",
		does: "Undo a release of which nothing has begun",
	}, func(ctx context.Context, in *numbered) (*nothing, error) {
		return &nothing{}, r.Books.Unrelease(ctx, in.ID)
	})
}

func (r *routes) makeRelease(ctx context.Context, in *releaseInput) (*madeReleaseAnswer, error) {
	release, err := r.Books.Release(in.in(ctx), in.Body.Plan, in.Body.Until)
	return &madeReleaseAnswer{Location: Base + "/releases/" + strconv.FormatInt(release.ID, 10), Body: releaseOf(&release)}, err
}

func releaseOf(r *store.Release) releaseBody {
	return releaseBody{
		ID: r.ID, Plan: r.Plan, Until: r.Until, At: r.At, By: r.By, Undone: when(r.Undone), Loads: append([]string{}, r.Loads...),
	}
}
