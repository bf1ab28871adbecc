package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"blankwright/api/access"
	"blankwright/api/runs"
	"blankwright/api/web"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A line's difference says what became of the line, also where no date is to
// come any more.
func TestLineRow_Fate(t *testing.T) {
	due := shop.Date(20800)
	day := func(n int) *shop.Date { d := due + shop.Date(n); return &d }
	for want, row := range map[string]web.LineRow{
		"cancelled":          {Sets: 0, Due: due},
		"shipped":            {Sets: 3, Shipped: 3, Due: due},
		"not in a plan yet":  {Sets: 3, Shipped: 1, Due: due},
		"2 of 3 not planned": {Sets: 3, Unplanned: 2, Ship: day(0), Due: due},
		"held back":          {Sets: 3, Shipped: 1, Due: due, Held: &store.Hold{Why: "credit"}},
		"on the day":         {Sets: 3, Ship: day(0), Due: due},
		"1 day late":         {Sets: 3, Ship: day(1), Due: due},
		"2 days early":       {Sets: 3, Ship: day(1), Due: due, Promised: day(3)},
	} {
		if got := row.Fate(); got != want {
			t.Errorf("%+v is said to be %q, but is %q", row, got, want)
		}
	}
}

// What the books find wrong is told with what is wrong with the form itself, each
// at its field, so that nobody sends it once more for the rest.
func TestWalk_AllProblems(t *testing.T) {
	h, s := yard(t)
	sales := visit(t, h, access.Sales)
	wrong := map[string]string{"product": "NO-SUCH", "quantity": "two", "due": "soon", "weight": "-1"}
	row := map[string]string{"dealer": "nobody"}
	for name, value := range wrong {
		row["lines[1]."+name] = value
	}
	sales.open("/orders/new").submit("/orders/new", row).must(http.StatusUnprocessableEntity)
	sales.says("there is no dealer", `no product "NO-SUCH"`, `"two" is no whole number`, "is no date", "is -1")
	order := "/orders/show/" + s.Demand[0].Order
	sales.open(order).submit(order+"/lines", wrong).must(http.StatusUnprocessableEntity).says(`no product "NO-SUCH"`, `"two" is no whole number`, "is -1")
	delete(wrong, "quantity")
	sales.open("/claims/new").submit("/claims/new", map[string]string{"product": "NO-SUCH", "sold": "2026-11-02", "failed": "then", "reason": ""}).must(http.StatusUnprocessableEntity)
	sales.says(`no product "NO-SUCH"`, "Reason", "is missing")
	if orders, err := h.Books.Orders(t.Context(), store.OrderFilter{Dealer: "nobody"}); err != nil || len(orders) > 0 {
		t.Errorf("%d orders were entered: %v", len(orders), err)
	}
}

// Who calls says a name or a number of his own, and sales find the line by it; the
// list and the order say the dealer's name, too.
func TestWalk_Find(t *testing.T) {
	h, s := yard(t)
	if _, err := h.Books.PutDealer(t.Context(), "gull", store.DealerTerms{Name: "Ledge & Sons (invented)", Weight: 1}, store.MustBeNew); err != nil {
		t.Fatal(err)
	}
	order := store.NewOrder{ID: "X-9", OrderTerms: store.OrderTerms{Dealer: "gull", Reference: "PO 77/b"}, Lines: []store.LineTerms{{Product: "SUN-11L", Quantity: 2, Due: s.Today() + 30}}}
	if _, err := h.Books.EnterOrder(t.Context(), order); err != nil {
		t.Fatal(err)
	}
	sales := visit(t, h, access.Sales)
	for _, text := range []string{"x-9", "GULL", "ledge & s", "po 77", "11l", "Sunker"} {
		sales.open("/orders?q="+url.QueryEscape(text)).must(http.StatusOK).says("X-9/1", "Ledge & Sons (invented)")
	}
	if sales.open("/orders?q=Turr").must(http.StatusOK); strings.Contains(sales.words(), "X-9/1") {
		t.Error("a line is found by another product's name")
	}
	if sales.open("/orders.csv?q=x-9").must(http.StatusOK); !strings.Contains(sales.text, ",dealer_name,product_name\n") || !strings.Contains(sales.text, ",Ledge & Sons (invented),Sunker 11 ft light surf") {
		t.Errorf("the list for a spreadsheet has no names:\n%s", sales.text)
	}
	sales.open("/orders/show/X-9").must(http.StatusOK).says("Ledge & Sons (invented), their number PO 77/b", "order X-9, your PO 77/b")
	sales.open("/print/orders/X-9").must(http.StatusOK).says("Ledge & Sons (invented) · your PO 77/b")
}

// A quote says which lines of others it makes late, and whether any.
func TestOrderForm_Late(t *testing.T) {
	due := shop.Date(20800)
	ship := due + 2
	form := web.OrderForm{Plan: "plan 9", Against: "plan 8", Quote: []web.QuoteRow{{Product: "P", Sets: 3, Due: due, Ship: &ship}}}
	if text := look(t, rendered(t, "", &form)); !strings.Contains(text, "2 days late") || !strings.Contains(text, "no other line is late that is not by plan 8") {
		t.Errorf("the quote does not say that it harms nobody:\n%s", text)
	}
	form.Late = []runs.LineMove{{Line: "X-1/1", Due: due, To: &ship}}
	if text := look(t, rendered(t, "", &form)); !strings.Contains(text, "X-1/1") || strings.Contains(text, "no other line") {
		t.Errorf("the quote does not say whom it harms:\n%s", text)
	}
}
