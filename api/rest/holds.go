package rest

import (
	"context"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A holdBody says why a line is held back, and until when.
type holdBody struct {
	Why   string     `json:"why" minLength:"1" maxLength:"200"`
	Until *shop.Date `json:"until,omitempty" format:"date" doc:"The first day on which it is planned again; absent: until somebody lifts the hold"`
}

type holdLineInput struct {
	ID string `path:"id" maxLength:"200" doc:"The line's id; a / in it is written %2F"`
	Match
	Body holdBody
}

type liftHoldInput struct {
	ID string `path:"id" maxLength:"200" doc:"The line's id; a / in it is written %2F"`
	Match
}

func holds(r *routes) {
	add(r, operation{
		name: "hold-line", may: "hold-lines", method: "PUT", path: "/lines/{id}/hold", tag: "orders", does: "Hold a line back",
		more: "No plan knows of it and nothing is sent on it as long as that lasts. Lines that ship complete are held together.",
	}, func(ctx context.Context, in *holdLineInput) (*revAnswer[lineBody], error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		l, err := r.Books.HoldLine(ctx, in.ID, store.Hold{Why: in.Body.Why, Until: in.Body.Until}, rev)
		return told(lineOf(&l), l.Rev, err)
	})
	add(r, operation{
		name: "lift-hold", may: "hold-lines", method: "DELETE", path: "/lines/{id}/hold", tag: "orders", does: "Hold a line back no longer",
		more: "Lines that ship complete with it are held back no longer, too.",
	}, func(ctx context.Context, in *liftHoldInput) (*revAnswer[lineBody], error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		l, err := r.Books.LiftHold(ctx, in.ID, rev)
		return told(lineOf(&l), l.Rev, err)
	})
}

// holdOf tells of a hold; nil where there is none.
func holdOf(h *store.Hold) *holdBody {
	if h == nil {
		return nil
	}
	return &holdBody{Why: h.Why, Until: h.Until}
}
