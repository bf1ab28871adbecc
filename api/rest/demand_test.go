package rest_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/access"
	"blankwright/api/apitest"
)

type object = map[string]any

// line is what an order asks for; the shop is bare, its product is P.
func line(quantity int, due string) object {
	return object{"product": "P", "quantity": quantity, "due": due}
}

// shopWithDealer is a bare house that knows the dealer Cove.
func shopWithDealer(t *testing.T) (*apitest.House, *apitest.Client) {
	t.Helper()
	h := bare(t)
	sales := h.As(access.Sales)
	sales.With("If-None-Match", "*").Do("PUT", "/dealers/cove", object{"name": "Cove Tackle (invented)", "weight": 2.0}).Must(http.StatusOK)
	return h, sales
}

type order struct {
	ID    string
	Open  bool
	Rev   int
	Lines []struct {
		ID              string
		Quantity, Open  int
		Weight          float64
		Due, Promised   string
		Shipped, Cancel int
	}
}

// An order is entered, found, changed and cancelled; its lines with it.
func TestOrders(t *testing.T) {
	_, sales := shopWithDealer(t)
	made := sales.Do("POST", "/orders", object{
		"dealer": "cove", "reference": "C 17", "lines": []object{line(4, "2027-03-20"), line(2, "2027-04-01")},
	}).Must(http.StatusCreated)
	var o order
	made.Into(&o)
	if len(o.Lines) != 2 || o.Lines[0].Weight != 2 || !o.Open {
		t.Fatalf("entered: %+v", o)
	}
	first := "/lines/" + o.ID + "%2F1"
	changed := sales.With("If-Match", sales.Get(first).Must(http.StatusOK).Header.Get("ETag")).
		Do("PUT", first, object{"product": "P", "quantity": 3, "due": "2027-03-25", "promised": "2027-03-26"}).Must(http.StatusOK)
	sales.With("If-Match", `"1"`).Do("PUT", first, line(9, "2027-03-25")).Must(http.StatusPreconditionFailed)
	sales.With("If-Match", changed.Header.Get("ETag")).Do("POST", first+"/cancel", nil).Must(http.StatusOK)
	sales.With("If-Match", "*").Do("POST", first+"/cancel", nil).Must(http.StatusConflict)

	at := "/orders/" + o.ID
	sales.With("If-Match", made.Header.Get("ETag")).Do("PUT", at, object{"dealer": "cove"}).Must(http.StatusPreconditionFailed)
	etag := sales.Get(at).Must(http.StatusOK).Header.Get("ETag")
	next := sales.With("If-Match", etag).Do("PUT", at, object{"dealer": "cove", "reference": "C 17", "complete": true}).Must(http.StatusOK).Header.Get("ETag")
	next = sales.With("If-Match", next).Do("POST", at+"/lines", line(5, "2027-04-02")).Must(http.StatusCreated).Header.Get("ETag")
	if next == "" {
		t.Error("a new line has no ETag")
	}
	sales.With("If-Match", "*").Do("POST", at+"/cancel", nil).Must(http.StatusOK).Into(&o)
	if o.Open || o.Lines[0].Promised != "2027-03-26" || len(o.Lines) != 3 {
		t.Errorf("cancelled: %+v", o)
	}
	for path, want := range map[string]int{
		"/orders?text=C%2017": 1, "/orders?open=true": 0, "/orders?dealer=cove": 1, "/orders?product=none": 0,
		"/lines?order=" + o.ID: 3, "/lines?due_until=2027-03-31": 1, "/lines?open=true": 0, "/lines?kind=restock": 0,
	} {
		if got := count(sales.Get(path).Must(http.StatusOK)); got != want {
			t.Errorf("%s: %d, want %d", path, got, want)
		}
	}
}

func count(a *apitest.Answer) int {
	var list struct{ Items []any }
	a.Into(&list)
	return len(list.Items)
}

// The same order under the same key is entered once, and another under it is
// refused.
func TestOrders_Once(t *testing.T) {
	_, sales := shopWithDealer(t)
	keyed := sales.With("Idempotency-Key", "mail 4711")
	body := object{"dealer": "cove", "lines": []object{line(4, "2027-03-20")}}
	first := keyed.Do("POST", "/orders", body).Must(http.StatusCreated)
	if again := keyed.Do("POST", "/orders", body).Must(http.StatusCreated); string(again.Text) != string(first.Text) {
		t.Errorf("the second answer differs:\n%s\n%s", first.Text, again.Text)
	}
	keyed.Do("POST", "/orders", object{"dealer": "cove", "lines": []object{line(5, "2027-03-20")}}).Must(http.StatusConflict)
	if got := count(sales.Get("/orders")); got != 1 {
		t.Errorf("%d orders", got)
	}
}

// Lists come page by page until there is no next.
func TestOrders_Pages(t *testing.T) {
	_, sales := shopWithDealer(t)
	for range 5 {
		sales.Loose().Do("POST", "/orders", object{"dealer": "cove", "lines": []object{line(1, "2027-03-20")}}).Must(http.StatusCreated)
	}
	var seen []string
	after := ""
	for range 4 {
		var page struct {
			Items []struct{ ID string }
			Next  string
		}
		sales.Get("/orders?limit=2&after=" + after).Must(http.StatusOK).Into(&page)
		for _, o := range page.Items {
			seen = append(seen, o.ID)
		}
		if after = page.Next; after == "" {
			break
		}
	}
	if len(seen) != 5 || seen[0] == seen[4] {
		t.Errorf("the pages hold %v", seen)
	}
}

// Everything that is wrong with an order is told at once.
func TestOrders_Problems(t *testing.T) {
	_, sales := shopWithDealer(t)
	got := sales.Do("POST", "/orders", object{"lines": []object{{"product": "P", "quantity": 0, "due": "soon", "frob": 1}}}).
		Must(http.StatusUnprocessableEntity).Locations()
	want := map[string]bool{"body.dealer": true, "body.lines[0].quantity": true, "body.lines[0].due": true, "body.lines[0].frob": true}
	for _, location := range got {
		delete(want, location)
	}
	if len(want) > 0 {
		t.Errorf("told of %v, not of %v", got, want)
	}
	got = sales.Do("POST", "/orders", object{"dealer": "none", "lines": []object{{"product": "Q", "quantity": 1, "due": "2027-03-20"}}}).
		Must(http.StatusUnprocessableEntity).Locations()
	if diff := cmp.Diff([]string{"body.dealer", "body.lines[0].product"}, got); diff != "" {
		t.Error(diff)
	}
}

// A whole number in another form of number is refused without a word on our
// types.
func TestOrders_Misfit(t *testing.T) {
	_, sales := shopWithDealer(t)
	answer := sales.Loose().Do("POST", "/orders", `{"dealer": "cove", "lines": [{"product": "P", "quantity": 1e2, "due": "2027-03-20"}]}`)
	p := answer.Must(http.StatusUnprocessableEntity).Problem()
	if diff := cmp.Diff([]string{"body.lines.quantity"}, answer.Locations()); diff != "" {
		t.Error(diff)
	}
	if p.Errors[0].Message == "" {
		t.Error("nothing says what would be right")
	}
}

// What the books do not know is told with what is wrong with the form, each with
// its path, and nothing is said of what could not be read.
func TestOrders_AllProblems(t *testing.T) {
	_, sales := shopWithDealer(t)
	loose := sales.Loose()
	for _, test := range []struct {
		path, body string
		want       []string
	}{
		{
			"/orders", `{"dealer": "nobody", "lines": [{"product": "NO", "quantity": 0, "due": "2027-03-20"}, {"product": "P", "quantity": 1, "due": "2027-03-20"}, {"product": "NOT", "quantity": 1, "due": "2027-03-20", "weight": -1}]}`,
			[]string{"body.dealer", "body.lines[0].product", "body.lines[0].quantity", "body.lines[2].product", "body.lines[2].weight"},
		},
		{
			"/orders", `{"dealer": "nobody", "unheard": 1, "lines": [{"product": "P", "quantity": 1, "due": "soon"}, {"product": "P", "quantity": 1, "due": "2027-03-20"}]}`,
			[]string{"body.dealer", "body.lines[0].due", "body.unheard"},
		},
		{"/restock", `{"product": "NO", "quantity": 0, "due": "2027-03-20"}`, []string{"body.product", "body.quantity"}},
	} {
		answer := loose.Do("POST", test.path, test.body)
		answer.Must(http.StatusUnprocessableEntity)
		got := slices.Sorted(slices.Values(answer.Locations()))
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.body, diff)
		}
	}
	if got := count(sales.Get("/orders")); got != 0 {
		t.Errorf("%d orders were entered", got)
	}
}

// A claim becomes a line; a level becomes demand for what is missing; stock
// moves say why stock is what it is; shipments take from it.
func TestRestock(t *testing.T) {
	h, sales := shopWithDealer(t)
	var claim struct{ ID, Line string }
	sales.Do("POST", "/claims", object{"product": "P", "sold": "2026-05-01", "failed": "2027-02-20", "reason": "broke at the tip"}).
		Must(http.StatusCreated).Into(&claim)
	sales.Get("/claims/" + claim.ID).Must(http.StatusOK)
	if got := count(sales.Get("/claims?product=P")); got != 1 {
		t.Errorf("%d claims", got)
	}
	level := sales.With("If-None-Match", "*").Do("PUT", "/levels/P", object{"sets": 5, "days": 20, "weight": 0.5}).Must(http.StatusOK)
	if got := count(sales.Get("/lines?kind=restock&open=true")); got != 2 {
		t.Errorf("%d lines of restock, want the claim's and the level's", got)
	}
	sales.Do("POST", "/stock/moves", object{"product": "P", "sets": 3, "why": "counted", "note": "behind the door"}).Must(http.StatusCreated)
	sales.Do("POST", "/stock/moves", object{"product": "P", "sets": -30, "why": "scrapped"}).Must(http.StatusConflict)
	sales.Do("POST", "/stock/moves", object{"product": "P", "sets": 3, "why": "scrapped"}).Must(http.StatusUnprocessableEntity)
	var stock struct {
		Items []struct {
			Product             string
			Kept, Short, Wanted int
			OnHand              int `json:"on_hand"`
		}
	}
	sales.Get("/stock").Must(http.StatusOK).Into(&stock)
	if s := stock.Items[0]; s.OnHand != 3 || s.Wanted != 1 || s.Kept != 2 || s.Short != 3 {
		t.Errorf("stock %+v", s)
	}
	sales.Do("POST", "/shipments", object{"parcels": []object{{"line": claim.Line, "sets": 1}}}).Must(http.StatusCreated)
	sales.Do("POST", "/shipments", object{"parcels": []object{{"line": claim.Line, "sets": 1}}}).Must(http.StatusUnprocessableEntity)
	if got := count(sales.Get("/shipments")); got != 1 {
		t.Errorf("%d shipments", got)
	}
	sales.Do("POST", "/shipments/1/take-back", object{"why": ""}).Must(http.StatusUnprocessableEntity)
	sales.Do("POST", "/shipments/2/take-back", object{"why": "wrong box"}).Must(http.StatusNotFound)
	var back struct {
		TakenBack *struct{ Why string } `json:"taken_back"`
	}
	if sales.Do("POST", "/shipments/1/take-back", object{"why": "wrong box"}).Must(http.StatusOK).Into(&back); back.TakenBack == nil || back.TakenBack.Why != "wrong box" {
		t.Errorf("taken back is %+v", back.TakenBack)
	}
	sales.Do("POST", "/shipments/1/take-back", object{"why": "wrong box"}).Must(http.StatusConflict)
	sales.Do("POST", "/shipments", object{"parcels": []object{{"line": claim.Line, "sets": 1}}}).Must(http.StatusCreated)
	if got := count(sales.Get("/stock/moves?product=P")); got != 4 {
		t.Errorf("%d moves", got)
	}
	for path, want := range map[string]int{"/stock/moves?product=P&": 3, "/shipments?": 1} {
		var page struct{ Next string }
		sales.Get(path + "limit=1").Must(http.StatusOK).Into(&page)
		if got := count(sales.Get(path + "after=" + page.Next)); got != want {
			t.Errorf("%s: %d after the first, want %d", path, got, want)
		}
	}
	sales.Do("POST", "/restock", line(2, "2027-05-01")).Must(http.StatusCreated)
	sales.With("If-Match", level.Header.Get("ETag")).Do("DELETE", "/levels/P", nil).Must(http.StatusNoContent)
	sales.Get("/levels/P").Must(http.StatusNotFound)
	h.As(access.Station).Do("POST", "/restock", line(2, "2027-05-01")).Must(http.StatusForbidden)
}

// A line that is held back says so wherever it is told, until it is lifted; who
// saw another revision is refused.
func TestHold(t *testing.T) {
	h, sales := shopWithDealer(t)
	sales.Do("POST", "/orders", object{"id": "O1", "dealer": "cove", "lines": []object{line(4, "2027-03-20")}}).Must(http.StatusCreated)
	at := "/lines/O1%2F1/hold"
	sales.With("If-Match", `"1"`).Do("PUT", at, object{"why": "", "until": "soon"}).Must(http.StatusUnprocessableEntity)
	sales.With("If-Match", `"1"`).Do("PUT", at, object{"why": "credit", "until": "2027-01-01"}).Must(http.StatusUnprocessableEntity)
	held := sales.With("If-Match", `"1"`).Do("PUT", at, object{"why": "credit", "until": "2027-03-09"}).Must(http.StatusOK)
	sales.With("If-Match", `"1"`).Do("PUT", at, object{"why": "more"}).Must(http.StatusPreconditionFailed)
	type hold struct{ Why, Until string }
	var l struct{ Hold *hold }
	if held.Into(&l); l.Hold == nil || *l.Hold != (hold{"credit", "2027-03-09"}) {
		t.Errorf("held: %+v", l.Hold)
	}
	var dates struct{ Items []struct{ Hold *hold } }
	if sales.Get("/shipping-dates").Must(http.StatusOK).Into(&dates); len(dates.Items) != 1 || dates.Items[0].Hold == nil {
		t.Errorf("ship dates: %+v", dates)
	}
	if text := string(sales.Get("/demand.csv").Must(http.StatusOK).Text); !strings.Contains(text, ",credit,2027-03-09\n") && !strings.Contains(text, ",credit,2027-03-09\r\n") {
		t.Errorf("the list of demand says\n%s", text)
	}
	if got := count(sales.Get("/lines?held=true")); got != 1 {
		t.Errorf("%d lines are held", got)
	}
	sales.Do("POST", "/shipments", object{"parcels": []object{{"line": "O1/1", "sets": 1}}}).Must(http.StatusUnprocessableEntity)
	h.As(access.Crib).With("If-Match", "*").Do("DELETE", at, nil).Must(http.StatusForbidden)
	sales.With("If-Match", held.Header.Get("ETag")).Do("DELETE", at, nil).Must(http.StatusOK)
	sales.With("If-Match", "*").Do("DELETE", at, nil).Must(http.StatusConflict)
}

// Dealers are made, changed and removed while they have no orders.
func TestDealers(t *testing.T) {
	_, sales := shopWithDealer(t)
	put := sales.With("If-Match", `"1"`).Do("PUT", "/dealers/cove", object{"name": "Cove", "note": "ring first"}).Must(http.StatusOK)
	var dealer struct {
		Weight float64
		Rev    int
	}
	put.Into(&dealer)
	if dealer.Weight != 1 || dealer.Rev != 2 {
		t.Errorf("changed: %+v", dealer)
	}
	sales.With("If-Match", `"1"`).With("If-None-Match", "*").Do("PUT", "/dealers/cove", object{"name": "Cove"}).Must(http.StatusBadRequest)
	sales.Do("POST", "/orders", object{"dealer": "cove", "lines": []object{line(1, "2027-03-20")}}).Must(http.StatusCreated)
	sales.With("If-Match", "*").Do("DELETE", "/dealers/cove", nil).Must(http.StatusConflict)
	sales.With("If-None-Match", "*").Do("PUT", "/dealers/bay", object{"name": "Bay"}).Must(http.StatusOK)
	sales.With("If-Match", "*").Do("DELETE", "/dealers/bay", nil).Must(http.StatusNoContent)
	if got := count(sales.Get("/dealers")); got != 1 {
		t.Errorf("%d dealers", got)
	}
}
