package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

// day is a date so many days after storetest.Start.
func day(n int) shop.Date { return shop.DateOf(storetest.Start) + shop.Date(n) }

// must is the answer of a method that must work.
func must[T any](t testing.TB) func(T, error) T {
	return func(answer T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return answer
	}
}

// paths are where an error finds problems.
func paths(err error) []string {
	var found strict.Problems
	errors.As(err, &found)
	var out []string
	for _, p := range found {
		out = append(out, p.Path)
	}
	return out
}

// wantPaths holds an error to problems at some places, in that order.
func wantPaths(t *testing.T, name string, err error, want ...string) {
	t.Helper()
	if diff := cmp.Diff(want, paths(err)); diff != "" {
		t.Errorf("%s: %v\npaths (-want +got):\n%s", name, err, diff)
	}
}

// openDesk returns the yard's books with a dealer GULL, whose lines weigh 2 and
// ship complete, and SLIP, whose don't.
func openDesk(t *testing.T) (*store.Books, *storetest.Clock) {
	t.Helper()
	b, clock := storetest.OpenYard(t)
	put := must[store.Dealer](t)
	put(b.PutDealer(t.Context(), "GULL", store.DealerTerms{Name: "Gull & Sons (invented)", Weight: 2, Complete: true}, store.MustBeNew))
	put(b.PutDealer(t.Context(), "SLIP", store.DealerTerms{Name: "Slipway (invented)", Weight: 1}, store.MustBeNew))
	return b, clock
}

// sets are the terms of a line for so many of a product.
func sets(n int, product string, due int) store.LineTerms {
	return store.LineTerms{Product: product, Quantity: n, Due: day(due)}
}

// enter enters a dealer's order.
func enter(t *testing.T, b *store.Books, dealer string, lines ...store.LineTerms) store.Order {
	t.Helper()
	return must[store.Order](t)(b.EnterOrder(t.Context(), store.NewOrder{OrderTerms: store.OrderTerms{Dealer: dealer}, Lines: lines}))
}

// balanced holds the books to what must add up.
func balanced(t *testing.T, b *store.Books) {
	t.Helper()
	if err := b.Verify(t.Context()); err != nil {
		t.Error(err)
	}
}

// Dealers are made, changed, and removed while they have no orders.
func TestDealers(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "GULL", sets(1, "ONE", 9))
	slip, err := b.Dealer(t.Context(), "SLIP")
	if err != nil || slip.Rev != 1 {
		t.Fatalf("%+v, %v", slip, err)
	}
	slip.Note = "calls on Fridays"
	changed := must[store.Dealer](t)(b.PutDealer(t.Context(), "SLIP", slip.DealerTerms, 1))
	if changed.Rev != 2 || changed.Note != slip.Note {
		t.Errorf("changed to %+v", changed)
	}
	refusals := map[string]struct {
		err, want error
	}{
		"stale":       {second(b.PutDealer(t.Context(), "SLIP", slip.DealerTerms, 1)), store.ErrStale},
		"not new":     {second(b.PutDealer(t.Context(), "SLIP", slip.DealerTerms, store.MustBeNew)), store.ErrConflict},
		"unknown":     {second(b.PutDealer(t.Context(), "NONE", slip.DealerTerms, 1)), store.ErrNotFound},
		"with orders": {b.RemoveDealer(t.Context(), "GULL", 0), store.ErrConflict},
		"remove":      {b.RemoveDealer(t.Context(), "SLIP", 2), nil},
		"gone":        {b.RemoveDealer(t.Context(), "SLIP", 0), store.ErrNotFound},
	}
	for name, test := range refusals {
		if name != "remove" && name != "gone" && !errors.Is(test.err, test.want) {
			t.Errorf("%s: %v, want %v", name, test.err, test.want)
		}
	}
	_, err = b.PutDealer(t.Context(), " x\n", store.DealerTerms{Weight: -1, Note: "a\x00b"}, 0)
	wantPaths(t, "bad dealer", err, "id", "id", "name", "weight", "note")
}

func second[T any](_ T, err error) error { return err }

// An order's lines take what they don't say from the order and the dealer, and
// are demand at once.
func TestEnterOrder(t *testing.T) {
	b, clock := openDesk(t)
	weight, no, promised := 0.5, false, day(20)
	got := enter(t, b, "GULL", sets(3, "ONE", 9), store.LineTerms{
		Product: "TWO", Quantity: 2, Due: day(12), Weight: &weight, Promised: &promised,
	})
	want := store.Order{ID: "O-00001", Dealer: "GULL", Complete: true, Entered: clock.Now(), Rev: 1, Lines: []store.Line{
		{ID: "O-00001/1", Kind: "order", Order: "O-00001", Dealer: "GULL", Product: "ONE", Quantity: 3, Due: day(9), Weight: 2, Complete: true, Rev: 1},
		{
			ID: "O-00001/2", Kind: "order", Order: "O-00001", Dealer: "GULL", Product: "TWO", Quantity: 2, Due: day(12), Weight: 0.5,
			Promised: &promised, Complete: true, Rev: 1,
		},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("entered (-want +got):\n%s", diff)
	}
	if again := must[store.Order](t)(b.Order(t.Context(), "O-00001")); cmp.Diff(want, again) != "" {
		t.Errorf("read again (-want +got):\n%s", cmp.Diff(want, again))
	}
	must[store.Order](t)(b.EnterOrder(t.Context(), store.NewOrder{
		ID: "X-1", OrderTerms: store.OrderTerms{Dealer: "GULL", Complete: &no, Reference: "77"}, Lines: []store.LineTerms{sets(1, "ONE", 3)},
	}))
	demand := []shop.Line{
		{ID: "O-00001/1", Kind: "order", Product: "ONE", Quantity: 3, Due: day(9), Weight: 2, Order: "O-00001", Complete: true},
		{ID: "O-00001/2", Kind: "order", Product: "TWO", Quantity: 2, Due: day(12), Weight: 0.5, Order: "O-00001", Complete: true},
		{ID: "X-1/1", Kind: "order", Product: "ONE", Quantity: 1, Due: day(3), Weight: 2, Order: "X-1"},
	}
	if diff := cmp.Diff(demand, exported(t, b).Demand); diff != "" {
		t.Errorf("demand (-want +got):\n%s", diff)
	}
	balanced(t, b)
}

// All problems of all orders are told at once, and then none is entered.
func TestEnterOrders_Problems(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "SLIP", sets(1, "ONE", 1))
	bad := -1.0
	good := store.NewOrder{ID: "Y", OrderTerms: store.OrderTerms{Dealer: "SLIP"}, Lines: []store.LineTerms{sets(1, "ONE", 1)}}
	_, err := b.EnterOrders(t.Context(), []store.NewOrder{
		good,
		{ID: "Y", Lines: []store.LineTerms{{Weight: &bad}}},
		{ID: "O-00001", OrderTerms: store.OrderTerms{Dealer: "NONE"}},
		{ID: "Z", OrderTerms: store.OrderTerms{Dealer: "SLIP"}, Lines: []store.LineTerms{sets(1, "ONE", 1), sets(strict.Most+1, "SIX", 1)}},
	})
	wantPaths(t, "bad orders", err,
		"orders[1].id", "orders[1].dealer", "orders[1].lines[0].product", "orders[1].lines[0].quantity", "orders[1].lines[0].due",
		"orders[1].lines[0].weight",
		"orders[2].id", "orders[2].dealer", "orders[2].lines", "orders[3].lines[1].product", "orders[3].lines[1].quantity")
	if all := must[[]store.Order](t)(b.Orders(t.Context(), store.OrderFilter{})); len(all) != 1 {
		t.Errorf("%d orders are there", len(all))
	}
	_, err = b.EnterOrders(t.Context(), nil)
	wantPaths(t, "no orders", err, "orders")
	tried, err := b.EnterOrders(store.WithTrial(t.Context()), []store.NewOrder{good, {OrderTerms: good.OrderTerms, Lines: good.Lines}})
	if err != nil || len(tried) != 2 || tried[1].ID != "O-00003" {
		t.Errorf("tried: %+v, %v", tried, err)
	}
	if all := must[[]store.Order](t)(b.Orders(t.Context(), store.OrderFilter{})); len(all) != 1 {
		t.Errorf("after a trial %d orders are there", len(all))
	}
}

// The same request with the same key enters once, and gets the same answer.
func TestEnterOrder_Twice(t *testing.T) {
	b, clock := openDesk(t)
	ctx := store.WithKey(store.WithActor(t.Context(), "sal"), "k1")
	asked := store.NewOrder{OrderTerms: store.OrderTerms{Dealer: "GULL"}, Lines: []store.LineTerms{sets(1, "ONE", 1)}}
	first := must[store.Order](t)(b.EnterOrder(ctx, asked))
	clock.Advance(time.Hour)
	if diff := cmp.Diff(first, must[store.Order](t)(b.EnterOrder(ctx, asked))); diff != "" {
		t.Errorf("the second answer (-first +second):\n%s", diff)
	}
	asked.Lines[0].Quantity = 2
	if _, err := b.EnterOrder(ctx, asked); !errors.Is(err, store.ErrConflict) {
		t.Errorf("the key for another order: %v", err)
	}
	if all := must[[]store.Order](t)(b.Orders(t.Context(), store.OrderFilter{})); len(all) != 1 {
		t.Errorf("%d orders are there", len(all))
	}
}

// A line is changed, cancelled and added, and its order's revision tells.
func TestChangeLine(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "SLIP", sets(3, "ONE", 9))
	line := must[store.Line](t)
	terms := sets(5, "TWO", 4)
	got := line(b.ChangeLine(t.Context(), "O-00001/1", terms, 1))
	want := store.Line{
		ID: "O-00001/1", Kind: "order", Order: "O-00001", Dealer: "SLIP", Product: "TWO", Quantity: 5, Due: day(4), Weight: 1, Rev: 2,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("changed (-want +got):\n%s", diff)
	}
	if again := line(b.ChangeLine(t.Context(), "O-00001/1", terms, 2)); again.Rev != 2 {
		t.Errorf("no change made revision %d", again.Rev)
	}
	for name, test := range map[string]struct{ err, want error }{
		"stale change": {second(b.ChangeLine(t.Context(), "O-00001/1", terms, 1)), store.ErrStale},
		"stale cancel": {second(b.CancelLine(t.Context(), "O-00001/1", 1)), store.ErrStale},
		"stale add":    {second(b.AddLine(t.Context(), "O-00001", terms, 1)), store.ErrStale},
		"unknown":      {second(b.ChangeLine(t.Context(), "O-2", terms, 0)), store.ErrNotFound},
		"unknown add":  {second(b.AddLine(t.Context(), "O-2", terms, 0)), store.ErrNotFound},
	} {
		if !errors.Is(test.err, test.want) {
			t.Errorf("%s: %v", name, test.err)
		}
	}
	added := line(b.AddLine(t.Context(), "O-00001", sets(2, "ONE", 6), 2))
	if added.ID != "O-00001/2" || added.Dealer != "SLIP" {
		t.Errorf("added %+v", added)
	}
	cancelled := line(b.CancelLine(t.Context(), "O-00001/1", 2))
	if cancelled.Open() != 0 || cancelled.Cancelled != 5 {
		t.Errorf("cancelled %+v", cancelled)
	}
	if _, err := b.CancelLine(t.Context(), "O-00001/1", 0); !errors.Is(err, store.ErrConflict) {
		t.Errorf("cancelled again: %v", err)
	}
	if o := must[store.Order](t)(b.Order(t.Context(), "O-00001")); o.Rev != 4 || !o.Open() {
		t.Errorf("the order is %+v", o)
	}
	if all := exported(t, b).Demand; len(all) != 1 || all[0].ID != "O-00001/2" {
		t.Errorf("demand is %+v", all)
	}
	balanced(t, b)
}

// An order's way to ship is its lines'; cancelled, nothing of it is open.
func TestChangeOrder(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "SLIP", sets(3, "ONE", 9), sets(1, "TWO", 9))
	yes := true
	got := must[store.Order](t)(b.ChangeOrder(t.Context(), "O-00001", store.OrderTerms{Dealer: "GULL", Reference: "r", Complete: &yes}, 1))
	if got.Dealer != "GULL" || got.Rev != 2 || !got.Complete || !got.Lines[0].Complete || got.Lines[0].Rev != 2 || got.Lines[1].Dealer != "GULL" {
		t.Errorf("changed to %+v", got)
	}
	_, err := b.ChangeOrder(t.Context(), "O-00001", store.OrderTerms{Dealer: "NONE", Note: "\x01"}, 0)
	wantPaths(t, "bad order", err, "note", "dealer")
	if _, err := b.ChangeOrder(t.Context(), "O-00001", store.OrderTerms{Dealer: "GULL"}, 1); !errors.Is(err, store.ErrStale) {
		t.Errorf("stale: %v", err)
	}
	if again := must[store.Order](t)(b.ChangeOrder(t.Context(), "O-00001", store.OrderTerms{Dealer: "GULL", Reference: "r"}, 2)); again.Rev != 2 {
		t.Errorf("no change made revision %d", again.Rev)
	}
	got = must[store.Order](t)(b.CancelOrder(t.Context(), "O-00001", 2))
	if got.Open() || len(exported(t, b).Demand) != 0 {
		t.Errorf("cancelled: %+v", got)
	}
	if _, err := b.CancelOrder(t.Context(), "O-00001", 0); !errors.Is(err, store.ErrConflict) {
		t.Errorf("cancelled again: %v", err)
	}
	var done []string
	for _, e := range must[[]store.Entry](t)(b.Trail(t.Context(), store.TrailFilter{Kind: "order", Of: "O-00001"})) {
		done = append(done, e.What)
	}
	if diff := cmp.Diff([]string{"cancelled", "changed", "entered"}, done); diff != "" {
		t.Errorf("the trail says (-want +got):\n%s", diff)
	}
}

// Orders and lines are found by what they say, page by page.
func TestOrders_Search(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "GULL", sets(1, "ONE", 30), sets(1, "TWO", 20))
	enter(t, b, "SLIP", sets(2, "ONE", 10))
	must[store.Order](t)(b.EnterOrder(t.Context(), store.NewOrder{
		ID: "100%_sure", OrderTerms: store.OrderTerms{Dealer: "SLIP", Reference: "Spring"}, Lines: []store.LineTerms{sets(3, "TWO", 10)},
	}))
	must[store.Order](t)(b.CancelOrder(t.Context(), "O-00002", 0))
	due := day(10)
	orders := []struct {
		name string
		f    store.OrderFilter
		want []string
	}{
		{"all", store.OrderFilter{}, []string{"100%_sure", "O-00002", "O-00001"}},
		{"open", store.OrderFilter{Open: true}, []string{"100%_sure", "O-00001"}},
		{"dealer", store.OrderFilter{Dealer: "SLIP"}, []string{"100%_sure", "O-00002"}},
		{"product", store.OrderFilter{Product: "ONE"}, []string{"O-00002", "O-00001"}},
		{"text of id", store.OrderFilter{Text: "%_"}, []string{"100%_sure"}},
		{"text of reference", store.OrderFilter{Text: "spring"}, []string{"100%_sure"}},
		{"text of dealer's name", store.OrderFilter{Text: "& sons"}, []string{"O-00001"}},
		{"text of product", store.OrderFilter{Text: "two"}, []string{"100%_sure", "O-00001"}},
		{"a quote", store.OrderFilter{Text: `'; DROP TABLE orders; --`}, nil},
		{"page", store.OrderFilter{After: "100%_sure", Limit: 1}, []string{"O-00002"}},
	}
	for _, test := range orders {
		var got []string
		for _, o := range must[[]store.Order](t)(b.Orders(t.Context(), test.f)) {
			got = append(got, o.ID)
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("orders by %s (-want +got):\n%s", test.name, diff)
		}
	}
	lines := []struct {
		name string
		f    store.LineFilter
		want []string
	}{
		{"all", store.LineFilter{}, []string{"O-00002/1", "100%_sure/1", "O-00001/2", "O-00001/1"}},
		{"open", store.LineFilter{Open: true}, []string{"100%_sure/1", "O-00001/2", "O-00001/1"}},
		{"order", store.LineFilter{Order: "O-00001"}, []string{"O-00001/2", "O-00001/1"}},
		{"dealer and product", store.LineFilter{Dealer: "SLIP", Product: "TWO"}, []string{"100%_sure/1"}},
		{"kind", store.LineFilter{Kind: "restock"}, nil},
		{"due", store.LineFilter{DueUntil: &due}, []string{"O-00002/1", "100%_sure/1"}},
		{"text", store.LineFilter{Text: "gul"}, []string{"O-00001/2", "O-00001/1"}},
		{"text of reference", store.LineFilter{Text: "spring"}, []string{"100%_sure/1"}},
		{"text of dealer's name", store.LineFilter{Text: "& sons"}, []string{"O-00001/2", "O-00001/1"}},
		{"page", store.LineFilter{After: "O-00002/1", Limit: 2}, []string{"100%_sure/1", "O-00001/2"}},
	}
	for _, test := range lines {
		var got []string
		for _, l := range must[[]store.Line](t)(b.Lines(t.Context(), test.f)) {
			got = append(got, l.ID)
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("lines by %s (-want +got):\n%s", test.name, diff)
		}
	}
	if _, err := b.Lines(t.Context(), store.LineFilter{After: "none"}); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("after a line that is not there: %v", err)
	}
}
