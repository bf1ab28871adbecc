package web_test

import (
	"net/http"
	"testing"

	"blankwright/api/access"
)

// What was sent by mistake is taken back by whoever may send, with a reason.
func TestWalk_TakeBack(t *testing.T) {
	h, s := yard(t)
	sales := visit(t, h, access.Sales).open("/orders").must(http.StatusOK)
	sales.open(sales.link("What was sent")).must(http.StatusOK).says("Nothing was sent yet")
	var order, line string
	for _, l := range s.Demand {
		if l.Order != "" && !l.Complete {
			order, line = l.Order, l.ID
			sales.open("/stock/"+l.Product).submit("/stock/"+l.Product+"/move", map[string]string{"why": "counted", "sets": "9"}).must(http.StatusOK)
			break
		}
	}
	sales.open("/orders/show/"+order).submit("/orders/show/"+order+"/ship", map[string]string{"parcels[0].sets": "1"}).must(http.StatusOK)
	sales.open(sales.link("What was sent")).must(http.StatusOK).says("What was sent, order "+order, "1 ×", line)
	sales.submit("/shipments/1/take-back", map[string]string{"why": " "}).must(http.StatusUnprocessableEntity).says("is missing")
	sales.submit("/shipments/1/take-back", map[string]string{"why": "another order's"}).must(http.StatusOK).says("Shipment 1 is taken back", "another order's")
	sales.send("/shipments/1/take-back", map[string][]string{"why": {"again"}}).must(http.StatusConflict).says("was taken back already")
	visit(t, h, access.Viewer).open("/shipments").must(http.StatusOK).says("taken back")
	if viewer := visit(t, h, access.Viewer); viewer.send("/shipments/1/take-back", nil).status != http.StatusForbidden {
		t.Errorf("a viewer gets %d", viewer.status)
	}
}

// What was entered by mistake into the crib, or said of a tape, is removed where
// nothing has happened to it.
func TestWalk_Remove(t *testing.T) {
	h, s := yard(t)
	keeper := visit(t, h, access.Crib, access.Planner)
	keeper.open("/crib/enter/mandrel").submit("/crib/enter/mandrel", map[string]string{"id": "ST-168/99", "type": "ST-168"}).must(http.StatusOK).says("Remove this mandrel")
	keeper.submit("/crib/mandrels/ST-168%2F99/remove", nil).must(http.StatusOK).says("as if it had never been entered")
	keeper.open("/crib/mandrels/ST-168%2F99").must(http.StatusNotFound)
	keeper.open("/crib/enter/roll").submit("/crib/enter/roll", map[string]string{"id": "R-1", "prepreg": s.Prepregs[0].ID, "m2": "20", "shelf": "2027-06-01T00:00"}).must(http.StatusOK)
	keeper.submit("/crib/rolls/R-1", map[string]string{"move": "out"}).must(http.StatusOK)
	if find(keeper.page, func(n *node) bool { return attribute(n, "action") == "/crib/rolls/R-1/remove" }) != nil {
		t.Error("a roll that was out can be removed")
	}
	keeper.send("/crib/rolls/R-1/remove", map[string][]string{"rev": {"2"}}).must(http.StatusConflict).says("discard it instead")
	tape := "/wraps/" + s.Products[0].Sections[0].ID
	keeper.open(tape).submit(tape, map[string]string{"pitch_mm": "2", "tension_n": "30"}).must(http.StatusOK)
	keeper.open(tape).submit(tape+"/remove", nil).must(http.StatusOK).says("Nothing is said any more")
	keeper.open(tape).must(http.StatusOK)
	if find(keeper.page, func(n *node) bool { return attribute(n, "action") == tape+"/remove" }) != nil {
		t.Error("a recipe that nobody has set can be removed")
	}
}
