package rest

import (
	"context"
	"time"

	"blankwright/scheduler/shop"
)

type needsAnswer struct {
	Body struct {
		Mandrels []needBody     `json:"mandrels" doc:"By type, then by day"`
		Rolls    []rollNeedBody `json:"rolls" doc:"Of the prepreg that is not without end"`
	}
}

type needBody struct {
	Type  string    `json:"type"`
	Day   shop.Date `json:"day" format:"date"`
	Out   int       `json:"out" doc:"At once, at most"`
	Ready int       `json:"ready" doc:"That the plan may use by the day's end"`
}

type rollNeedBody struct {
	Roll    string     `json:"roll"`
	Prepreg string     `json:"prepreg"`
	Drawn   float64    `json:"drawn_m2"`
	Left    float64    `json:"left_m2"`
	Last    *time.Time `json:"last,omitempty" doc:"When the plan draws from it for the last time"`
	Expires time.Time  `json:"expires"`
}

func needs(r *routes) {
	add(r, operation{
		name: "read-plan-needs", may: "read-plans", method: "GET", path: "/plans/{id}/needs", tag: "plans",
		does: "What a plan needs of mandrels and prepreg", more: "Mandrels by type and day, against those that are ready; rolls with what is drawn and left.",
	}, r.readNeeds)
}

func (r *routes) readNeeds(ctx context.Context, in *numbered) (*needsAnswer, error) {
	view, err := r.Runs.Views().Plan(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	answer := &needsAnswer{}
	answer.Body.Mandrels, answer.Body.Rolls = []needBody{}, []rollNeedBody{}
	for _, n := range view.Needs() {
		answer.Body.Mandrels = append(answer.Body.Mandrels, needBody(n))
	}
	for _, roll := range view.Rolls() {
		body := rollNeedBody{
			Roll: roll.Supply.ID, Prepreg: roll.Supply.Prepreg, Drawn: roll.Drawn, Left: roll.Left, Expires: roll.Supply.Expires.Time(),
		}
		if roll.Last != nil {
			body.Last = when(roll.Last.Time())
		}
		answer.Body.Rolls = append(answer.Body.Rolls, body)
	}
	return answer, nil
}
