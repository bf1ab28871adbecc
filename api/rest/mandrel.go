package rest

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"blankwright/store"
	"blankwright/store/crib"
)

// A MandrelBody is a mandrel as the interface tells it. It is exported for
// huma, which looks into no other embedded types.
type MandrelBody struct {
	ID    string     `json:"id"`
	Type  string     `json:"type"`
	Place crib.Place `json:"place" enum:"crib,issued,cleaning,recoating,inspection,quarantine,regrind,scrapped"`
	Load  string     `json:"load,omitempty" doc:"That it is issued to"`
	Back  *time.Time `json:"back,omitempty" doc:"When it is to be in the crib again, where anybody knows"`
	CyclesBody
	Due      []dueBody   `json:"due" doc:"What it must go through before it is issued again"`
	Possible []crib.Move `json:"possible" doc:"The moves that lead on from where it is"`
	Moved    time.Time   `json:"moved" doc:"When its last move was"`
	Rev      int64       `json:"rev"`
}

// CyclesBody counts how often a mandrel was worked with. It is exported for
// huma.
type CyclesBody struct {
	Cycles          int `json:"cycles" minimum:"0" maximum:"1000000000" doc:"Loads that it was worked with in all"`
	SinceRecoat     int `json:"since_recoat" minimum:"0" maximum:"1000000000"`
	SinceInspection int `json:"since_inspection" minimum:"0" maximum:"1000000000"`
}

func (c CyclesBody) counts() crib.Cycles {
	return crib.Cycles{All: c.Cycles, SinceRecoat: c.SinceRecoat, SinceInspection: c.SinceInspection}
}

type dueBody struct {
	Move   crib.Move `json:"move" enum:"recoat,inspect"`
	Cycles int       `json:"cycles" doc:"Since the last time"`
	Limit  int       `json:"limit" doc:"After which it is due"`
}

type mandrelsInput struct {
	Type  string     `query:"type" maxLength:"200"`
	Place crib.Place `query:"place" enum:"crib,issued,cleaning,recoating,inspection,quarantine,regrind,scrapped"`
	Load  string     `query:"load" maxLength:"200" doc:"Those issued to it"`
	Due   bool       `query:"due" doc:"Only those that are due for recoating or inspection"`
	Page
}

type mandrelInput struct {
	ID string `path:"id" maxLength:"200"`
}

type addMandrelInput struct {
	Once
	Body struct {
		ID    string     `json:"id" minLength:"1" maxLength:"60"`
		Type  string     `json:"type" minLength:"1" maxLength:"200"`
		Place crib.Place `json:"place,omitempty" enum:"crib,cleaning,recoating,inspection,quarantine,regrind" doc:"Where it is; without, in the crib"`
		CyclesBody
		Remark string `json:"remark,omitempty" maxLength:"200"`
	}
}

type changeMandrelInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
	Body struct {
		Type *string `json:"type,omitempty" minLength:"1" maxLength:"200"`

		Cycles          *int   `json:"cycles,omitempty" minimum:"0" maximum:"1000000000"`
		SinceRecoat     *int   `json:"since_recoat,omitempty" minimum:"0" maximum:"1000000000"`
		SinceInspection *int   `json:"since_inspection,omitempty" minimum:"0" maximum:"1000000000"`
		Remark          string `json:"remark,omitempty" maxLength:"200" doc:"Why, for its history"`
	}
}

// A removeInput names what was entered by mistake.
type removeInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
}

type historyInput struct {
	ID    string `path:"id" maxLength:"200"`
	Limit int    `query:"limit" minimum:"1" maximum:"500" default:"100"`
}

type mandrelMoveBody struct {
	At     time.Time  `json:"at"`
	By     string     `json:"by"`
	Move   string     `json:"move" doc:"A move, or entered or corrected"`
	From   crib.Place `json:"from,omitempty"`
	To     crib.Place `json:"to"`
	Load   string     `json:"load,omitempty" doc:"That it was issued to, or came from"`
	Back   *time.Time `json:"back,omitempty" doc:"When it was to be in the crib again"`
	Cycles int        `json:"cycles" doc:"That this added"`
	Remark string     `json:"remark,omitempty"`
}

type failureBody struct {
	Load    string    `json:"load"`
	Section string    `json:"section"`
	Stage   string    `json:"stage" doc:"At which it was scrapped"`
	At      time.Time `json:"at"`
	Reason  string    `json:"reason"`
	Pieces  int       `json:"pieces"`
	Of      int       `json:"of" doc:"Pieces of the run, as planned"`
}

func mandrels(r *routes) {
	add(r, operation{
		name: "list-mandrels", method: "GET", path: "/mandrels", tag: "crib", does: "Mandrels, by id",
	}, r.listMandrels)
	add(r, operation{
		name: "read-mandrel", method: "GET", path: "/mandrels/{id}", tag: "crib", does: "One mandrel",
	}, func(ctx context.Context, in *mandrelInput) (*revAnswer[MandrelBody], error) {
		m, err := r.Books.Mandrel(ctx, in.ID)
		return told(mandrelOf(&m), m.Rev, err)
	})
	add(r, operation{
		name: "add-mandrel", method: "POST", path: "/mandrels", tag: "crib", status: http.StatusCreated,
		does: "Enter a mandrel, with the cycles that it has seen before",
	}, r.addMandrel)
	add(r, operation{
		name: "change-mandrel", method: "PATCH", path: "/mandrels/{id}", tag: "crib",
		does: "Correct a mandrel's type or cycles",
		more: "What is not named stays as it is. One that is issued or scrapped cannot be corrected; where it is changes by moves alone.",
	}, r.changeMandrel)
	add(r, operation{
		name: "remove-mandrel", may: "add-mandrel", method: "DELETE", path: "/mandrels/{id}", tag: "crib",
		does: "Remove a mandrel that was entered by mistake", more: "Only one to which nothing has happened since; others are scrapped.",
	}, func(ctx context.Context, in *removeInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveMandrel(ctx, in.ID, rev)
	})
	add(r, operation{
		name: "read-mandrel-history", method: "GET", path: "/mandrels/{id}/history", tag: "crib", does: "What a mandrel went through, the newest first",
	}, r.readMandrelHistory)
	add(r, operation{
		name: "read-mandrel-failures", method: "GET", path: "/mandrels/{id}/failures", tag: "crib", does: "What failed of what a mandrel made, the newest first",
		more: "The scrap of every run that it was in: which of the run's mandrels it was on nobody reports.",
	}, func(ctx context.Context, in *mandrelInput) (*listAnswer[failureBody], error) {
		list, err := r.Books.MandrelFailures(ctx, in.ID)
		return listed(list, err, func(f *store.Failure) failureBody { return failureBody(*f) })
	})
}

func (r *routes) listMandrels(ctx context.Context, in *mandrelsInput) (*listAnswer[MandrelBody], error) {
	list, err := r.Books.Mandrels(ctx, store.MandrelFilter{
		Type: in.Type, Place: in.Place, Load: in.Load, Due: in.Due, After: in.After, Limit: in.Limit,
	})
	return paged(in.Page, list, err, mandrelOf, func(m *store.Mandrel) string { return m.ID })
}

func (r *routes) addMandrel(ctx context.Context, in *addMandrelInput) (*madeAnswer[MandrelBody], error) {
	m, err := r.Books.AddMandrel(in.in(ctx), store.NewMandrel{
		ID: in.Body.ID, Type: in.Body.Type, Place: in.Body.Place, Cycles: in.Body.counts(), Remark: in.Body.Remark,
	})
	if err != nil {
		return nil, err
	}
	return &madeAnswer[MandrelBody]{Base + "/mandrels/" + url.PathEscape(m.ID), etag(m.Rev), mandrelOf(&m)}, nil
}

func (r *routes) changeMandrel(ctx context.Context, in *changeMandrelInput) (*revAnswer[MandrelBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	m, err := r.Books.ChangeMandrel(ctx, in.ID, store.MandrelChange{
		Type: in.Body.Type, All: in.Body.Cycles, SinceRecoat: in.Body.SinceRecoat, SinceInspection: in.Body.SinceInspection,
		Remark: in.Body.Remark,
	}, rev)
	return told(mandrelOf(&m), m.Rev, err)
}

func (r *routes) readMandrelHistory(ctx context.Context, in *historyInput) (*listAnswer[mandrelMoveBody], error) {
	moves, err := r.Books.MandrelHistory(ctx, in.ID, in.Limit)
	return listed(moves, err, func(m *store.MandrelMove) mandrelMoveBody {
		return mandrelMoveBody{
			At: m.At, By: m.Actor, Move: m.Move, From: m.From, To: m.To, Load: m.Load, Back: optional(m.Back), Cycles: m.Cycles, Remark: m.Remark,
		}
	})
}

func mandrelOf(m *store.Mandrel) MandrelBody {
	out := MandrelBody{
		ID: m.ID, Type: m.Type, Place: m.Place, Load: m.Load, Back: optional(m.Back),
		CyclesBody: CyclesBody{m.All, m.SinceRecoat, m.SinceInspection},
		Due:        []dueBody{}, Possible: append([]crib.Move{}, m.Moves...), Moved: m.Moved, Rev: m.Rev,
	}
	for _, d := range m.Dues {
		out.Due = append(out.Due, dueBody(d))
	}
	return out
}

// optional is an instant that may be none.
func optional(at time.Time) *time.Time {
	if at.IsZero() {
		return nil
	}
	return &at
}
