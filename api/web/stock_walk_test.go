package web_test

import (
	"net/http"
	"testing"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A blank comes back: the claim is refused at its fields, then entered; its
// replacement is changed, sent out of stock, and closed.
func TestWalk_Claim(t *testing.T) {
	h, s := yard(t)
	product := s.Products[0].ID
	sales := visit(t, h, access.Sales).open("/claims").must(http.StatusOK).says("No blank has come back")
	sales.open(sales.link("Enter a claim")).must(http.StatusOK)
	wrong := map[string]string{"product": "NONE", "sold": "2026-11-20", "failed": "2026-11-02", "reason": " "}
	sales.submit("/claims/new", wrong).must(http.StatusUnprocessableEntity)
	for _, name := range []string{"product", "failed", "reason"} {
		if input := find(sales.page, func(n *node) bool { return attribute(n, "name") == name }); attribute(input, "aria-invalid") != "true" {
			t.Errorf("%s is not marked as wrong:\n%s", name, sales.words())
		}
	}
	sales.submit("/claims/new", map[string]string{"sold": "2.11.2026"}).must(http.StatusUnprocessableEntity).says(`"2.11.2026" is no date`)
	sales.submit("/claims/new", map[string]string{"product": product, "sold": "2026-05-02", "failed": "2026-11-20", "reason": "split above the ferrule"}).must(http.StatusOK)
	sales.says("Claim C-00001 is entered", "split above the ferrule", "not in a plan yet")
	sales.open("/claims").says("C-00001", product, "not in a plan yet")

	sales.open("/claims/show/C-00001").submit("/lines/C-00001", map[string]string{"quantity": "0"}).must(http.StatusUnprocessableEntity).says("Claim C-00001", "is 0")
	sales.open("/claims/show/C-00001").submit("/lines/C-00001", map[string]string{"due": "2026-12-24"}).must(http.StatusOK).says("Thu 24 Dec 2026")
	second := visit(t, h, access.Sales).open(sales.at)
	sales.submit("/lines/C-00001/send", map[string]string{"sets": "2"}).must(http.StatusUnprocessableEntity).says("is 2, but 1 are open")
	sales.open("/claims/show/C-00001").submit("/lines/C-00001/send", map[string]string{"sets": "1"}).must(http.StatusOK).says("1 set more written down", "shipped")
	second.submit("/lines/C-00001/cancel", nil).must(http.StatusPreconditionFailed).says("Somebody has changed this")
	visit(t, h, access.Viewer).open("/claims/new").must(http.StatusForbidden)
	visit(t, h, access.Viewer).open("/claims/show/none").must(http.StatusNotFound)
}

// A product is kept on the shelf: what falls below its level is asked for, what
// is counted answers it, and what is asked for by hand is laid there.
func TestWalk_Stock(t *testing.T) {
	h, s := yard(t)
	product := s.Products[3].ID
	page := "/stock/" + product
	hand := s.Products[3].Stock
	sales := visit(t, h, access.Sales).open("/").must(http.StatusOK)
	sales.open(sales.link("Stock")).must(http.StatusOK).says(product, s.Products[3].Name).open(page).must(http.StatusOK).says("level none")
	sales.submit(page+"/level", map[string]string{"sets": "many", "days": "-1", "weight": ""}).must(http.StatusUnprocessableEntity).says(`"many" is no whole number`, "is missing")
	sales.submit(page+"/level", map[string]string{"sets": "500", "days": "-1", "weight": "1"}).must(http.StatusUnprocessableEntity).says("is -1")
	sales.submit(page+"/level", map[string]string{"sets": "500", "days": "20"}).must(http.StatusOK).says("The level is set", "RESTOCK/"+product, "not in a plan yet the level")
	sales.open("/stock").says("by RESTOCK/" + product)
	second := visit(t, h, access.Sales).open(page)
	sales.open(page).submit(page+"/level", map[string]string{"sets": "3"}).must(http.StatusOK)
	second.submit(page+"/level", map[string]string{"sets": "9"}).must(http.StatusPreconditionFailed).says("Somebody has changed this")

	sales.open(page).submit(page+"/move", map[string]string{"why": "scrapped", "sets": "-999"}).must(http.StatusConflict).says("in stock, not 999")
	sales.submit(page+"/move", map[string]string{"why": "scrapped", "sets": "2"}).must(http.StatusUnprocessableEntity).says("what is scrapped is below 0")
	sales.submit(page+"/move", map[string]string{"why": "counted", "sets": "60", "note": "behind the door"}).must(http.StatusOK).says("+60", "behind the door", "kept back for the level 3")
	if list, err := h.Books.Stock(t.Context()); err != nil || list[3].OnHand != hand+60 || list[3].Kept != 3 || list[3].Short != 0 {
		t.Errorf("the books hold %+v after the count: %v", list[3], err)
	}
	sales.submit(page+"/restock", map[string]string{"quantity": "", "due": "2027-02-31"}).must(http.StatusUnprocessableEntity).says("is no whole number", "is no date")
	sales.submit(page+"/restock", map[string]string{"quantity": "4", "due": "2027-02-03"}).must(http.StatusOK).says("asks for them", "Wed 3 Feb 2027")
	line := "/lines/" + lineOf(t, h, product)
	sales.submit(line, map[string]string{"quantity": "x"}).must(http.StatusUnprocessableEntity).says(`"x" is no whole number`)
	sales.open(page).submit(line+"/send", map[string]string{"sets": "1"}).must(http.StatusOK).says("1 set more written down")
	sales.submit(line+"/cancel", nil).must(http.StatusOK).says("is cancelled")
	sales.submit(page+"/level/remove", nil).must(http.StatusOK).says("The level is taken away", "level none")
	visit(t, h, access.Crib).open(page).must(http.StatusOK).send(page+"/level", nil).must(http.StatusForbidden)
	visit(t, h, access.Sales).open("/stock/none").must(http.StatusNotFound)
}

// lineOf is the line that asks for a product for the shelf.
func lineOf(t *testing.T, h *apitest.House, product string) string {
	t.Helper()
	lines, err := h.Books.Lines(t.Context(), store.LineFilter{Product: product, Kind: shop.KindRestock, Open: true})
	if err != nil || len(lines) != 1 {
		t.Fatalf("%d lines ask for %s: %v", len(lines), product, err)
	}
	return lines[0].ID
}
