package store_test

import (
	"errors"
	"testing"

	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// What was entered by mistake can be removed, as long as nothing has happened to
// it; what has moved stays.
func TestRemove(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	ctx := t.Context()
	eight := 8
	must[store.Mandrel](t)(b.AddMandrel(ctx, store.NewMandrel{ID: "new", Type: "mandrel", Cycles: crib.Cycles{All: 3}}))
	must[store.Mandrel](t)(b.ChangeMandrel(ctx, "new", store.MandrelChange{All: &eight}, 0))
	must[store.Mandrel](t)(b.AddMandrel(ctx, store.NewMandrel{ID: "moved", Type: "mandrel"}))
	must[[]store.Mandrel](t)(b.MoveMandrels(ctx, []store.Seen{{ID: "moved"}}, crib.Order{Move: crib.ToQuarantine, Remark: "bent"}))
	for _, id := range []string{"new roll", "drawn"} {
		must[store.Roll](t)(b.AddRoll(ctx, store.NewRoll{ID: id, Prepreg: "prepreg", M2: 20, Shelf: storetest.Start.AddDate(0, 6, 0)}))
	}
	must[store.Roll](t)(b.MoveRoll(ctx, store.Seen{ID: "drawn"}, crib.RollOrder{Move: crib.TakeOut}))
	must[store.WrapRecipe](t)(b.SetWrapRecipe(ctx, "ONE-A", store.WrapTerms{PitchMM: 2, TensionN: 30, Passes: 1}, 0))
	for _, test := range []struct {
		name   string
		remove func(rev int64) error
		rev    int64
		want   error
	}{
		{"stale mandrel", func(rev int64) error { return b.RemoveMandrel(ctx, "new", rev) }, 1, store.ErrStale},
		{"mandrel", func(rev int64) error { return b.RemoveMandrel(ctx, "new", rev) }, 2, nil},
		{"mandrel that is gone", func(rev int64) error { return b.RemoveMandrel(ctx, "new", rev) }, 2, store.ErrNotFound},
		{"mandrel that has moved", func(rev int64) error { return b.RemoveMandrel(ctx, "moved", rev) }, 0, store.ErrConflict},
		{"stale roll", func(rev int64) error { return b.RemoveRoll(ctx, "new roll", rev) }, 7, store.ErrStale},
		{"roll", func(rev int64) error { return b.RemoveRoll(ctx, "new roll", rev) }, 1, nil},
		{"roll that has moved", func(rev int64) error { return b.RemoveRoll(ctx, "drawn", rev) }, 0, store.ErrConflict},
		{"stale recipe", func(rev int64) error { return b.RemoveWrapRecipe(ctx, "ONE-A", rev) }, 7, store.ErrStale},
		{"recipe", func(rev int64) error { return b.RemoveWrapRecipe(ctx, "ONE-A", rev) }, 1, nil},
		{"recipe that is gone", func(rev int64) error { return b.RemoveWrapRecipe(ctx, "ONE-A", rev) }, 0, store.ErrNotFound},
	} {
		if err := test.remove(test.rev); !errors.Is(err, test.want) {
			t.Errorf("%s: %v, want %v", test.name, err, test.want)
		}
	}
	if entries := must[[]store.Entry](t)(b.Trail(ctx, store.TrailFilter{Of: "new"})); len(entries) != 3 {
		t.Errorf("the trail has %d entries of the mandrel, want 3", len(entries))
	}
	balanced(t, b)
}

// A shipment that is taken back is undone by moves that say so, and its lines
// are open again; it is taken back once, for a reason.
func TestTakeBackShipment(t *testing.T) {
	b, _ := openDesk(t)
	ctx := t.Context()
	stock(t, b, "ONE", 5)
	enter(t, b, "SLIP", sets(4, "ONE", 9))
	level(t, b, "ONE", 2)
	restock := must[store.Line](t)(b.EnterRestock(ctx, sets(1, "ONE", 9)))
	before := holding(t, b, "ONE")
	sent := must[store.Shipment](t)(b.Ship(ctx, []store.Parcel{{Line: "O-00001/1", Sets: 4}, {Line: restock.ID, Sets: 1}}, ""))
	if _, err := b.TakeBackShipment(ctx, sent.ID, ""); err == nil {
		t.Error("taken back without a reason")
	}
	if _, err := b.TakeBackShipment(ctx, 99, "x"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("another shipment: %v", err)
	}
	back := must[store.Shipment](t)(b.TakeBackShipment(ctx, sent.ID, "another order's"))
	if back.TakenBack == nil || back.TakenBack.Why != "another order's" {
		t.Errorf("taken back is %+v", back)
	}
	if _, err := b.TakeBackShipment(ctx, sent.ID, "again"); !errors.Is(err, store.ErrConflict) {
		t.Errorf("taken back twice: %v", err)
	}
	if now := holding(t, b, "ONE"); now != before {
		t.Errorf("holding is %+v, was %+v", now, before)
	}
	for _, id := range []string{"O-00001/1", restock.ID} {
		if l := must[store.Line](t)(b.Line(ctx, id)); l.Shipped != 0 {
			t.Errorf("line %s has %d shipped", id, l.Shipped)
		}
	}
	moves := must[[]store.StockMove](t)(b.StockMoves(ctx, store.StockFilter{Why: store.StockUnsent}))
	if len(moves) != 1 || moves[0].Sets != 4 || moves[0].Ref != "1" {
		t.Errorf("moves are %+v", moves)
	}
	if list := must[[]store.Shipment](t)(b.Shipments(ctx, store.ShipmentFilter{Order: "O-00001"})); len(list) != 1 || list[0].TakenBack == nil {
		t.Errorf("shipments of the order are %+v", list)
	}
	balanced(t, b)
}
