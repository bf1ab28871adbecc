package rest_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A dealer's list is tried, then entered: rows of one order become one order.
func TestCSV(t *testing.T) {
	_, sales := shopWithDealer(t)
	sales = sales.With("Content-Type", "text/csv")
	const list = "order,product,quantity,due,complete\nC 17,P,4,2027-03-20,yes\nC 18,P,1,2027-03-21,\nC 17,P,2,2027-03-25,\n"
	var entered struct {
		DryRun bool `json:"dry_run"`
		Lines  int
		Orders []struct {
			Reference string
			Complete  bool
			Lines     []any
		}
	}
	sales.Do("POST", "/demand.csv?dealer=cove&dry_run=true", list).Must(http.StatusOK).Into(&entered)
	if !entered.DryRun || entered.Lines != 3 || len(entered.Orders) != 2 {
		t.Errorf("would enter %+v", entered)
	}
	if got := count(sales.Get("/orders")); got != 0 {
		t.Fatalf("a dry run entered %d orders", got)
	}
	keyed := sales.With("Idempotency-Key", "the same mail")
	for range 2 {
		keyed.Do("POST", "/demand.csv?dealer=cove", list).Must(http.StatusOK).Into(&entered)
	}
	if got := count(sales.Get("/orders")); got != 2 {
		t.Errorf("%d orders", got)
	}
	if o := entered.Orders[0]; o.Reference != "C 17" || !o.Complete || len(o.Lines) != 2 {
		t.Errorf("entered %+v", o)
	}
	out := string(sales.Get("/demand.csv").Must(http.StatusOK).Text)
	if strings.Count(out, "\n") != 4 || !strings.Contains(out, ",cove,P,4,0,0,4,2027-03-20,,2,yes") {
		t.Errorf("the list that comes out:\n%s", out)
	}
}

// Every row's problems are told, those of its form beside those that the books
// find, and nothing is entered.
func TestCSV_Problems(t *testing.T) {
	_, sales := shopWithDealer(t)
	sales = sales.With("Content-Type", "text/csv")
	got := sales.Do("POST", "/demand.csv?dealer=none", "product,quantity,due\nP,1,2027-03-20\nP,0,soon\nQ,1,2027-03-20\nP\nQ,x,2027-03-20\n").
		Must(http.StatusUnprocessableEntity).Locations()
	want := []string{"query.dealer", "row[3].quantity", "row[3].due", "row[4].product", "row[5]", "row[6].quantity", "row[6].product"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// A column of the list is none of the address.
	got = sales.Do("POST", "/demand.csv?dealer=cove", "product,quantity,due,dealer\nP,1,2027-03-20,cove\n").
		Must(http.StatusUnprocessableEntity).Locations()
	if diff := cmp.Diff([]string{"row[1].dealer"}, got); diff != "" {
		t.Error(diff)
	}
	sales.Do("POST", "/demand.csv", "product,quantity,due\nP,1,2027-03-20\n").Must(http.StatusUnprocessableEntity)
	sales.Do("POST", "/demand.csv?dealer=cove", "\xff").Must(http.StatusUnprocessableEntity)
	sales.Do("POST", "/demand.csv?dealer=cove", "").Must(http.StatusBadRequest)
	if n := count(sales.Get("/orders")); n != 0 {
		t.Errorf("%d orders", n)
	}
}

// A name that a spreadsheet would take for a formula goes out as a text.
func TestCSV_Formula(t *testing.T) {
	_, sales := shopWithDealer(t)
	sales.With("If-None-Match", "*").Do("PUT", "/dealers/=cmd", object{"name": "Hostile"}).Must(http.StatusOK)
	sales.Do("POST", "/orders", object{"dealer": "=cmd", "lines": []object{line(1, "2027-03-20")}}).Must(http.StatusCreated)
	if out := string(sales.Get("/demand.csv").Text); !strings.Contains(out, ",'=cmd,") {
		t.Errorf("the list:\n%s", out)
	}
}
