package rest

import (
	"context"
	"net/http"
	"time"

	"blankwright/store"
)

// A shipmentBody is what was sent at once.
type shipmentBody struct {
	ID      int64        `json:"id"`
	At      time.Time    `json:"at"`
	By      string       `json:"by"`
	Note    string       `json:"note"`
	Parcels []parcelBody `json:"parcels"`

	TakenBack *takenBackBody `json:"taken_back,omitempty" doc:"Absent while it stands"`
}

// A takenBackBody says why a shipment counts no longer.
type takenBackBody struct {
	At  time.Time `json:"at"`
	By  string    `json:"by"`
	Why string    `json:"why"`
}

// A parcelBody is some sets of one line.
type parcelBody struct {
	Line string `json:"line" minLength:"1" maxLength:"200"`
	Sets int    `json:"sets" minimum:"1" maximum:"1000000000"`
}

type shipmentsInput struct {
	Line  string `query:"line" maxLength:"200"`
	Order string `query:"order" maxLength:"200"`
	Older
}

type shipInput struct {
	Once
	Body struct {
		Parcels []parcelBody `json:"parcels" minItems:"1" maxItems:"1000"`
		Note    string       `json:"note,omitempty" maxLength:"2000"`
	}
}

type takeBackInput struct {
	ID int64 `path:"id" minimum:"1"`
	Once
	Body struct {
		Why string `json:"why" minLength:"1" maxLength:"200"`
	}
}

type shipmentAnswer struct{ Body shipmentBody }

func shipments(r *routes) {
	add(r, operation{
		name: "list-shipments", may: "read-demand", method: "GET", path: "/shipments", tag: "orders", does: "What was sent, the newest first",
	}, func(ctx context.Context, in *shipmentsInput) (*listAnswer[shipmentBody], error) {
		list, err := r.Books.Shipments(ctx, store.ShipmentFilter{Line: in.Line, Order: in.Order, Before: in.After, Limit: in.Limit})
		return older(in.Older, list, err, shipmentOf, func(s *store.Shipment) int64 { return s.ID })
	})
	add(r, operation{
		name: "ship", method: "POST", path: "/shipments", tag: "orders", status: http.StatusCreated,
		does: "Send sets from stock on lines", more: "Lines that ship complete go together: all that is open of their order, or none.",
	}, r.ship)
	add(r, operation{
		name: "take-back-shipment", may: "ship", method: "POST", path: "/shipments/{id}/take-back", tag: "orders",
		does: "Take back a shipment that was entered by mistake", more: "What it took is in stock again, and its lines are open. The shipment stays, and says why.",
	}, func(ctx context.Context, in *takeBackInput) (*shipmentAnswer, error) {
		s, err := r.Books.TakeBackShipment(in.in(ctx), in.ID, in.Body.Why)
		return &shipmentAnswer{shipmentOf(&s)}, err
	})
}

func (r *routes) ship(ctx context.Context, in *shipInput) (*shipmentAnswer, error) {
	var parcels []store.Parcel
	for _, p := range in.Body.Parcels {
		parcels = append(parcels, store.Parcel(p))
	}
	s, err := r.Books.Ship(in.in(ctx), parcels, in.Body.Note)
	return &shipmentAnswer{shipmentOf(&s)}, err
}

func shipmentOf(s *store.Shipment) shipmentBody {
	body := shipmentBody{ID: s.ID, At: s.At, By: s.Actor, Note: s.Note, Parcels: make([]parcelBody, len(s.Parcels))}
	for i, p := range s.Parcels {
		body.Parcels[i] = parcelBody(p)
	}
	if t := s.TakenBack; t != nil {
		body.TakenBack = &takenBackBody{At: t.At, By: t.Actor, Why: t.Why}
	}
	return body
}
