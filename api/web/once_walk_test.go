package web_test

import (
	"net/http"
	"strings"
	"testing"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/store"
)

// twice sends a form as it is shown, filled in, and the same once more, as a
// second touch or a reload does.
func (v *visitor) twice(action string, fill map[string]string) *visitor {
	v.t.Helper()
	shown, address := v.page, v.at
	v.submit(action, fill).must(http.StatusOK)
	first := v.at
	v.page, v.at = shown, address
	v.submit(action, fill).must(http.StatusOK)
	if v.at != first {
		v.t.Errorf("%s sent again leads to %s, not to %s", action, v.at, first)
	}
	return v
}

// What is entered by a form is entered once, however often the form is sent, and
// the second sending shows what the first made.
func TestWalk_Twice(t *testing.T) {
	h, s := yard(t)
	ctx, product := t.Context(), s.Products[0].ID
	have, asked := lengths(t, h, product)
	v := visit(t, h, access.AllRoles()...)
	v.open("/dealers/+").twice("/dealers/+", map[string]string{"id": "cove", "name": "Cove (invented)"}).says("cove is saved")
	v.open("/orders/new").twice("/orders/new", map[string]string{"dealer": "cove", "lines[0].product": product, "lines[0].quantity": "2", "lines[0].due": "2026-12-20"}).says("The order is entered")
	order := strings.TrimPrefix(v.at, "/orders/show/")
	v.twice(v.at+"/lines", map[string]string{"product": product, "quantity": "1", "due": "2026-12-21"}).says("The line is added")
	v.open("/claims/new").twice("/claims/new", map[string]string{"product": product, "sold": "2025-11-02", "failed": "2026-11-02", "reason": "split"}).says("is entered")
	v.open("/stock/"+product).twice("/stock/"+product+"/restock", map[string]string{"quantity": "3", "due": "2026-12-20"}).says("asks for them")
	v.twice("/stock/"+product+"/move", map[string]string{"why": store.StockCounted, "sets": "4"}).says("It is written down")
	v.open("/orders/show/"+order).twice("/orders/show/"+order+"/ship", map[string]string{"parcels[0].sets": "1"}).says("What was sent is written down")
	v.open("/crib/enter/roll").twice("/crib/enter/roll", map[string]string{"id": "R-1", "prepreg": s.Prepregs[0].ID, "m2": "20", "shelf": "2027-06-01T00:00"}).says("R-1 is entered")
	v.open("/tokens/new").submit("/tokens/new", map[string]string{"name": "list", "role-viewer": "true", "once": "again"}).must(http.StatusOK).says("It is told this once")
	v.open("/tokens/new").submit("/tokens/new", map[string]string{"name": "list", "role-viewer": "true", "once": "again"}).must(http.StatusOK).says("was made when the form was sent first")

	o, err := h.Books.Order(ctx, order)
	if err != nil || len(o.Lines) != 2 || o.Lines[0].Shipped != 1 {
		t.Errorf("the order is %+v, %v; want two lines, one set of the first sent", o, err)
	}
	if moves, lines := lengths(t, h, product); moves != have+2 || lines != asked+4 {
		t.Errorf("%d moves of stock and %d lines, want %d and %d", moves, lines, have+2, asked+4)
	}
}

// The planner's changes and releases are made once, too.
func TestWalk_TwiceInADay(t *testing.T) {
	h, s := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan().open("/day")
	before, err := h.Books.Releases(t.Context(), 0, 9)
	if err != nil {
		t.Fatal(err)
	}
	planner.twice("/plans/1/release", map[string]string{"until": "2026-11-28T00:00"}).says("They are in the stations' queues")
	planner.twice("/change/closure", map[string]string{"resource": "oven:skerry", "from": "2026-12-01T07:00", "to": "2026-12-01T12:00"}).says("is closed for that time")
	planner.twice("/change/shift", map[string]string{"crew": s.Crews[0].ID, "people": "2", "date": "2026-12-05", "from": "08:00", "to": "12:00"}).says("The shift is there")
	releases, err := h.Books.Releases(t.Context(), 0, 9)
	if err != nil || len(releases) != len(before)+1 {
		t.Errorf("%d releases, want one more than %d: %v", len(releases), len(before), err)
	}
	now, err := h.Books.Catalog(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(now.Downtime), len(s.Downtime)+1; got != want {
		t.Errorf("%d closures, want %d", got, want)
	}
	if got, want := len(now.Crews[0].Shifts), len(s.Crews[0].Shifts)+1; got != want {
		t.Errorf("%d shifts, want %d", got, want)
	}
}

// A form that was taken and is sent again with something else in it, enters
// nothing and says so; sent once more, it is a new one.
func TestWalk_TwiceOtherwise(t *testing.T) {
	h, s := yard(t)
	shelf := "/stock/" + s.Products[0].ID
	v := visit(t, h, access.Sales, access.Planner).open(shelf)
	shown := v.page
	v.submit(shelf+"/restock", map[string]string{"quantity": "3", "due": "2026-12-20"}).must(http.StatusOK)
	v.page = shown
	v.submit(shelf+"/restock", map[string]string{"quantity": "5", "due": "2026-12-20"}).must(http.StatusConflict).says("This form was sent before")
	v.submit(shelf+"/restock", nil).must(http.StatusOK).says("asks for them")
}

// lengths are how many moves of stock and how many lines a product has.
func lengths(t *testing.T, h *apitest.House, product string) (moves, lines int) {
	t.Helper()
	of, err := h.Books.StockMoves(t.Context(), store.StockFilter{Product: product})
	if err != nil {
		t.Fatal(err)
	}
	list, err := h.Books.Lines(t.Context(), store.LineFilter{Product: product})
	if err != nil {
		t.Fatal(err)
	}
	return len(of), len(list)
}
