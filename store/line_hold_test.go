package store_test

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/store"
	"blankwright/store/storetest"
)

// wanted are the lines that a shop file asks for.
func wanted(t *testing.T, b *store.Books) []string {
	t.Helper()
	var ids []string
	for _, l := range must[*store.Snapshot](t)(b.Snapshot(t.Context())).Shop.Demand {
		ids = append(ids, l.ID)
	}
	var out []string
	for _, l := range exported(t, b).Demand {
		out = append(out, l.ID)
	}
	if diff := cmp.Diff(ids, out); diff != "" {
		t.Errorf("the snapshot asks for other lines than the export:\n%s", diff)
	}
	return ids
}

// heldLines are those that are held back.
func heldLines(t *testing.T, b *store.Books) []string {
	t.Helper()
	var ids []string
	for _, l := range must[[]store.Line](t)(b.Lines(t.Context(), store.LineFilter{Held: true})) {
		ids = append(ids, l.ID)
	}
	return ids
}

// A line that is held back is in no shop file until somebody lifts that, and
// nothing is sent on it; what it asks for stays asked for, beside the level.
func TestHoldLine(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "SLIP", sets(3, "ONE", 9), sets(2, "TWO", 9))
	stock(t, b, "ONE", 4)
	level(t, b, "ONE", 2)
	before := holding(t, b, "ONE")
	line := must[store.Line](t)
	held := line(b.HoldLine(t.Context(), "O-00001/1", store.Hold{Why: "waits for the deposit"}, 1))
	if held.Rev != 2 || held.Hold == nil || held.Hold.Why != "waits for the deposit" || !held.Held(day(500)) {
		t.Errorf("held as %+v", held)
	}
	if diff := cmp.Diff([]string{"O-00001/2", "RESTOCK/ONE"}, wanted(t, b)); diff != "" {
		t.Errorf("asked for while held (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(before, holding(t, b, "ONE")); diff != "" {
		t.Errorf("holding (-before +held):\n%s", diff)
	}
	_, err := b.Ship(t.Context(), []store.Parcel{{Line: "O-00001/1", Sets: 1}}, "")
	wantPaths(t, "sent", err, "parcels[0].line")
	if diff := cmp.Diff([]string{"O-00001/1"}, heldLines(t, b)); diff != "" {
		t.Error(diff)
	}
	balanced(t, b)
	lifted := line(b.LiftHold(t.Context(), "O-00001/1", 2))
	if lifted.Hold != nil || lifted.Rev != 3 || len(wanted(t, b)) != 3 || len(heldLines(t, b)) != 0 {
		t.Errorf("lifted as %+v", lifted)
	}
	last := must[[]store.Entry](t)(b.Trail(t.Context(), store.TrailFilter{Of: "O-00001/1"}))[0]
	if last.What != "lifted" || !slices.Contains(heldWords(last), "waits for the deposit") {
		t.Errorf("the trail ends with %+v", last)
	}
}

// heldWords are what an entry of the trail says of holds.
func heldWords(e store.Entry) (words []string) {
	for _, side := range []json.RawMessage{e.From, e.To} {
		var l store.Line
		if json.Unmarshal(side, &l) == nil && l.Hold != nil {
			words = append(words, l.Hold.Why)
		}
	}
	return words
}

// A hold with a date ends by itself when that day comes in the shop.
func TestHoldLine_Until(t *testing.T) {
	b, clock := openDesk(t)
	enter(t, b, "SLIP", sets(3, "ONE", 9))
	until := day(2)
	must[store.Line](t)(b.HoldLine(t.Context(), "O-00001/1", store.Hold{Why: "boat is ashore", Until: &until}, 0))
	for days, want := range []int{0, 0, 1, 1} {
		if got := len(wanted(t, b)); got != want {
			t.Errorf("%d days on, %d lines are asked for, want %d", days, got, want)
		}
		if got := len(heldLines(t, b)); got != 1-want {
			t.Errorf("%d days on, %d lines are held, want %d", days, got, 1-want)
		}
		balanced(t, b)
		clock.Advance(24 * time.Hour)
	}
	stock(t, b, "ONE", 1)
	must[store.Shipment](t)(b.Ship(t.Context(), []store.Parcel{{Line: "O-00001/1", Sets: 1}}, ""))
}

// What ships complete is held and lifted together, and whatever joins it is held
// as it is.
func TestHoldLine_Complete(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "GULL", sets(3, "ONE", 9), sets(2, "TWO", 9))
	enter(t, b, "SLIP", sets(1, "ONE", 9), sets(1, "TWO", 9))
	hold := store.Hold{Why: "credit"}
	must[store.Line](t)(b.HoldLine(t.Context(), "O-00001/2", hold, 0))
	must[store.Line](t)(b.HoldLine(t.Context(), "O-00002/2", hold, 0))
	if diff := cmp.Diff([]string{"O-00002/1"}, wanted(t, b)); diff != "" {
		t.Errorf("asked for (-want +got):\n%s", diff)
	}
	must[store.Line](t)(b.AddLine(t.Context(), "O-00001", sets(1, "ONE", 12), 0))
	yes := true
	must[store.Order](t)(b.ChangeOrder(t.Context(), "O-00002", store.OrderTerms{Dealer: "SLIP", Complete: &yes}, 0))
	if all := wanted(t, b); len(all) != 0 {
		t.Errorf("asked for are %v, though all wait for what is held", all)
	}
	must[store.Line](t)(b.LiftHold(t.Context(), "O-00001/1", 0))
	must[store.Line](t)(b.LiftHold(t.Context(), "O-00002/1", 0))
	if diff := cmp.Diff([]string{"O-00001/1", "O-00001/2", "O-00002/1", "O-00002/2", "O-00001/3"}, wanted(t, b)); diff != "" {
		t.Errorf("asked for at last (-want +got):\n%s", diff)
	}
}

// What cannot be held back is refused, and so is what would leave a hold with
// nothing behind it.
func TestHoldLine_Refused(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "SLIP", sets(3, "ONE", 9))
	enter(t, b, "SLIP", sets(1, "TWO", 9))
	level(t, b, "ONE", 2)
	today := day(0)
	_, err := b.HoldLine(t.Context(), "O-00001/1", store.Hold{Why: " ", Until: &today}, 0)
	wantPaths(t, "bad hold", err, "why", "until")
	must[store.Line](t)(b.CancelLine(t.Context(), "O-00002/1", 0))
	hold := store.Hold{Why: "credit"}
	for name, test := range map[string]struct{ err, want error }{
		"stale":     {second(b.HoldLine(t.Context(), "O-00001/1", hold, 9)), store.ErrStale},
		"unknown":   {second(b.HoldLine(t.Context(), "O-9", hold, 0)), store.ErrNotFound},
		"level":     {second(b.HoldLine(t.Context(), "RESTOCK/ONE", hold, 0)), store.ErrConflict},
		"closed":    {second(b.HoldLine(t.Context(), "O-00002/1", hold, 0)), store.ErrConflict},
		"not held":  {second(b.LiftHold(t.Context(), "O-00001/1", 0)), store.ErrConflict},
		"late lift": {second(b.LiftHold(t.Context(), "O-00001/1", 9)), store.ErrStale},
	} {
		if !errors.Is(test.err, test.want) {
			t.Errorf("%s: %v, want %v", name, test.err, test.want)
		}
	}
	if err := b.RemoveLevel(t.Context(), "ONE", 0); err != nil {
		t.Fatal(err)
	}
	must[store.Line](t)(b.HoldLine(t.Context(), "O-00001/1", hold, 0))
	if err := b.RemoveThing(t.Context(), "product", "ONE", 0); !errors.Is(err, store.ErrConflict) {
		t.Errorf("its product is removed: %v", err)
	}
}

// Books without a shop have nothing that is held back.
func TestLines_HeldEmpty(t *testing.T) {
	b, _ := storetest.Open(t)
	if got := heldLines(t, b); len(got) != 0 {
		t.Errorf("held are %v", got)
	}
}
