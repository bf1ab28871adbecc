package rest

import (
	"context"
	"time"

	"blankwright/store"
)

// A troubleBody is something released that can no longer happen as it was meant.
type troubleBody struct {
	Kind string    `json:"kind" enum:"open,green,expired,material,mandrels,racks,oven,horizon,waiting"`
	Load string    `json:"load"`
	Task int64     `json:"task,omitempty" doc:"Absent where the whole load has it"`
	What string    `json:"what" doc:"What is wrong, with its numbers"`
	Mend string    `json:"mend" doc:"What would mend it"`
	At   time.Time `json:"at" doc:"When it shows"`
}

type balanceAnswer struct {
	Body struct {
		Started  int         `json:"started" doc:"Pieces that were tacked"`
		Trimmed  int         `json:"trimmed" doc:"Of them trimmed, and good"`
		Scrapped int         `json:"scrapped"`
		InWork   int         `json:"in_work" doc:"Neither yet"`
		Loose    []looseBody `json:"loose" doc:"Good pieces that make no set yet"`
	}
}

type looseBody struct {
	Section string `json:"section"`
	Pieces  int    `json:"pieces"`
}

func standing(r *routes) {
	add(r, operation{
		name: "list-troubles", may: "read-floor", method: "GET", path: "/troubles", tag: "floor",
		does: "What of the released work can no longer happen as it was meant", more: "With what would mend it. The next plan keeps such work all the same.",
	}, r.listTroubles)
	add(r, operation{
		name: "read-balance", may: "read-floor", method: "GET", path: "/balance", tag: "floor", does: "What became of all pieces that were started",
	}, r.readBalance)
}

func (r *routes) listTroubles(ctx context.Context, _ *struct{}) (*listAnswer[troubleBody], error) {
	snapshot, err := r.Books.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	return listed(snapshot.Troubles, nil, func(t *store.Trouble) troubleBody { return troubleBody(*t) })
}

func (r *routes) readBalance(ctx context.Context, _ *struct{}) (*balanceAnswer, error) {
	balance, err := r.Books.Balance(ctx)
	if err != nil {
		return nil, err
	}
	loose, err := r.Books.Loose(ctx)
	answer := &balanceAnswer{}
	body := &answer.Body
	body.Started, body.Trimmed, body.Scrapped, body.InWork = balance.Started, balance.Trimmed, balance.Scrapped, balance.InWork
	body.Loose = make([]looseBody, len(loose))
	for i, l := range loose {
		body.Loose[i] = looseBody(l)
	}
	return answer, err
}
