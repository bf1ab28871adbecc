package store_test

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

// stock moves sets by hand, which must work.
func stock(t *testing.T, b *store.Books, product string, sets int) {
	t.Helper()
	must[store.StockMove](t)(b.MoveStock(t.Context(), product, sets, store.StockCounted, ""))
}

// level sets a product's level: due in 30 days, weight 0.5.
func level(t *testing.T, b *store.Books, product string, sets int) store.Level {
	t.Helper()
	return must[store.Level](t)(b.PutLevel(t.Context(), product, store.LevelTerms{Sets: sets, Days: 30, Weight: 0.5}, 0))
}

// holding returns what there is of a product.
func holding(t *testing.T, b *store.Books, product string) store.Holding {
	t.Helper()
	for _, h := range must[[]store.Holding](t)(b.Stock(t.Context())) {
		if h.Product == product {
			return h
		}
	}
	t.Fatalf("no product %s", product)
	return store.Holding{}
}

// Moves sum up to stock, which is never below nothing.
func TestMoveStock(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	stock(t, b, "ONE", 5)
	must[store.StockMove](t)(b.MoveStock(t.Context(), "ONE", -2, store.StockScrapped, "crushed tips"))
	if h := holding(t, b, "ONE"); h.OnHand != 3 {
		t.Errorf("holding %+v", h)
	}
	if _, err := b.MoveStock(t.Context(), "ONE", -4, store.StockCounted, ""); !errors.Is(err, store.ErrConflict) {
		t.Errorf("more than there is: %v", err)
	}
	if _, err := b.MoveStock(t.Context(), "ONE", strict.Most, store.StockCounted, ""); !errors.Is(err, store.ErrConflict) {
		t.Errorf("more than a shop file can say: %v", err)
	}
	tests := []struct {
		name, product string
		sets          int
		why           string
		want          []string
	}{
		{"nothing", "ONE", 0, store.StockCounted, []string{"sets"}},
		{"made up", "SIX", 1, store.StockTrimmed, []string{"product", "why"}},
		{"scrap that comes", "ONE", 1, store.StockScrapped, []string{"sets"}},
		{"return that goes", "ONE", -1, store.StockReturned, []string{"sets"}},
		{"too many", "ONE", -2e9, store.StockCounted, []string{"sets"}},
	}
	for _, test := range tests {
		_, err := b.MoveStock(t.Context(), test.product, test.sets, test.why, "")
		wantPaths(t, test.name, err, test.want...)
	}
	moves := must[[]store.StockMove](t)(b.StockMoves(t.Context(), store.StockFilter{Product: "ONE", Why: store.StockScrapped}))
	if len(moves) != 1 || moves[0].Sets != -2 || moves[0].Note != "crushed tips" {
		t.Errorf("moves %+v", moves)
	}
	balanced(t, b)
}

// A move that was written stays as it is.
func TestStockMoves_Stay(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	stock(t, b, "ONE", 5)
	for _, change := range []string{"UPDATE stock_moves SET sets = 9", "DELETE FROM stock_moves"} {
		if b.Write(t.Context(), func(tx *gorm.DB) error { return tx.Exec(change).Error }) == nil {
			t.Errorf("%s: done", change)
		}
	}
}

// What falls below its level is demand by itself, for as long as it does.
func TestLevel_Restock(t *testing.T) {
	b, clock := openDesk(t)
	steps := []struct {
		name string
		do   func()
		want store.Holding
		due  int // 0: nothing is asked for
	}{
		{"level of 4, nothing there", func() { level(t, b, "ONE", 4) }, store.Holding{Level: 4, Short: 4}, 30},
		{"3 come", func() { clock.Advance(48 * 3600e9); stock(t, b, "ONE", 3) }, store.Holding{OnHand: 3, Level: 4, Kept: 3, Short: 1}, 30},
		{"6 come", func() { stock(t, b, "ONE", 6) }, store.Holding{OnHand: 9, Level: 4, Kept: 4}, 0},
		{"7 are ordered", func() { enter(t, b, "SLIP", sets(7, "ONE", 9)) }, store.Holding{OnHand: 9, Wanted: 7, Level: 4, Kept: 2, Short: 2}, 32},
		{"5 are shipped", func() {
			must[store.Shipment](t)(b.Ship(t.Context(), []store.Parcel{{Line: "O-00001/1", Sets: 5}}, ""))
		}, store.Holding{OnHand: 4, Wanted: 2, Level: 4, Kept: 2, Short: 2}, 32},
		{"a claim", func() {
			must[store.Claim](t)(b.EnterClaim(t.Context(), store.NewClaim{Product: "ONE", Sold: day(-300), Failed: day(-2), Reason: "split"}))
		}, store.Holding{OnHand: 4, Wanted: 3, Level: 4, Kept: 1, Short: 3}, 32},
		{"the claim is cancelled", func() {
			must[store.Line](t)(b.CancelLine(t.Context(), "C-00001", 0))
		}, store.Holding{OnHand: 4, Wanted: 2, Level: 4, Kept: 2, Short: 2}, 32},
		{"the line changes product", func() {
			must[store.Line](t)(b.ChangeLine(t.Context(), "O-00001/1", sets(5, "ONE", 9), 0))
		}, store.Holding{OnHand: 4, Level: 4, Kept: 4}, 0},
		{"level of 6, sooner", func() {
			must[store.Level](t)(b.PutLevel(t.Context(), "ONE", store.LevelTerms{Sets: 6, Days: 10, Weight: 1}, 0))
		}, store.Holding{OnHand: 4, Level: 6, Kept: 4, Short: 2}, 12},
		{"later", func() { level(t, b, "ONE", 6) }, store.Holding{OnHand: 4, Level: 6, Kept: 4, Short: 2}, 32},
		{"no level", func() {
			if err := b.RemoveLevel(t.Context(), "ONE", 0); err != nil {
				t.Error(err)
			}
		}, store.Holding{OnHand: 4}, 0},
	}
	for _, step := range steps {
		step.do()
		step.want.Product = "ONE"
		if diff := cmp.Diff(step.want, holding(t, b, "ONE")); diff != "" {
			t.Errorf("%s: holding (-want +got):\n%s", step.name, diff)
		}
		s := exported(t, b)
		if want := step.want.OnHand - step.want.Kept; s.Products[0].Stock != want {
			t.Errorf("%s: plans get %d of stock, want %d", step.name, s.Products[0].Stock, want)
		}
		if diff := cmp.Diff(asks(step.want.Short, step.due), restockOf(s)); diff != "" {
			t.Errorf("%s: restock (-want +got):\n%s", step.name, diff)
		}
		balanced(t, b)
	}
}

// asks is the one line that a level of ONE asks for.
func asks(short, due int) []shop.Line {
	if short == 0 {
		return nil
	}
	return []shop.Line{{ID: "RESTOCK/ONE", Kind: "restock", Product: "ONE", Quantity: short, Due: day(due), Weight: 0.5}}
}

// restockOf returns the lines of levels; their weight is compared where it is
// the usual.
func restockOf(s *shop.Shop) []shop.Line {
	var out []shop.Line
	for _, l := range s.Demand {
		if strings.HasPrefix(l.ID, "RESTOCK/") {
			l.Weight = 0.5
			out = append(out, l)
		}
	}
	return out
}

// What a level asks for is changed through the level, and exports as a line
// like any other.
func TestLevel_Line(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	level(t, b, "ONE", 2)
	if line := must[store.Line](t)(b.Line(t.Context(), "RESTOCK/ONE")); !line.Level || !line.ToShelf() {
		t.Errorf("the line is %+v", line)
	}
	for name, err := range map[string]error{
		"change": second(b.ChangeLine(t.Context(), "RESTOCK/ONE", sets(1, "ONE", 1), 0)),
		"cancel": second(b.CancelLine(t.Context(), "RESTOCK/ONE", 0)),
	} {
		if !errors.Is(err, store.ErrConflict) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err := b.Ship(t.Context(), []store.Parcel{{Line: "RESTOCK/ONE", Sets: 1}}, "")
	wantPaths(t, "ship", err, "parcels[0].line", "parcels[0].sets")
	if err := b.RemoveThing(t.Context(), "product", "ONE", 0); !errors.Is(err, store.ErrConflict) {
		t.Errorf("the product removed: %v", err)
	}
	file := export(t, b)
	again, _ := storetest.Open(t)
	if err := again.Import(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(file), string(export(t, again))); diff != "" {
		t.Errorf("exported again (-first +again):\n%s", diff)
	}
	level(t, again, "ONE", 2)
	if line := must[store.Line](t)(again.Line(t.Context(), "RESTOCK/ONE/2")); !line.Level {
		t.Errorf("beside the imported line is %+v", line)
	}
	_, err = b.PutLevel(t.Context(), "SIX", store.LevelTerms{Sets: -1, Days: 1e6, Weight: -1}, 0)
	wantPaths(t, "bad level", err, "product", "sets", "days", "weight")
}

// A claim is replaced by a line that ships from stock.
func TestClaims(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	due := day(3)
	claim := must[store.Claim](t)(b.EnterClaim(t.Context(), store.NewClaim{
		Product: "TWO", Sold: day(-100), Failed: day(0), Reason: "soft spot", Due: &due,
	}))
	want := store.Line{ID: "C-00001", Kind: "restock", Claim: "C-00001", Product: "TWO", Quantity: 1, Due: due, Weight: 1, Rev: 1}
	if diff := cmp.Diff(want, must[store.Line](t)(b.Line(t.Context(), claim.Line))); diff != "" {
		t.Errorf("the line (-want +got):\n%s", diff)
	}
	stock(t, b, "TWO", 1)
	must[store.Shipment](t)(b.Ship(t.Context(), []store.Parcel{{Line: claim.Line, Sets: 1}}, ""))
	if h := holding(t, b, "TWO"); h.OnHand != 0 || h.Wanted != 0 {
		t.Errorf("after the replacement: %+v", h)
	}
	all := must[[]store.Claim](t)(b.Claims(t.Context(), store.ClaimFilter{Product: "TWO"}))
	if diff := cmp.Diff([]store.Claim{claim}, all); diff != "" {
		t.Errorf("claims (-want +got):\n%s", diff)
	}
	tests := []struct {
		name string
		c    store.NewClaim
		want []string
	}{
		{"empty", store.NewClaim{}, []string{"product", "sold", "failed", "reason"}},
		{"failed before sold", store.NewClaim{Product: "ONE", Sold: day(-1), Failed: day(-2), Reason: "r"}, []string{"failed"}},
		{"failed tomorrow", store.NewClaim{Product: "ONE", Sold: day(-1), Failed: day(1), Reason: "r"}, []string{"failed"}},
	}
	for _, test := range tests {
		_, err := b.EnterClaim(t.Context(), test.c)
		wantPaths(t, test.name, err, test.want...)
	}
	balanced(t, b)
}

// A shipment is refused for all that is wrong with it, and then nothing moves.
func TestShip_Refused(t *testing.T) {
	b, _ := openDesk(t)
	enter(t, b, "GULL", sets(2, "ONE", 9), sets(1, "TWO", 9)) // complete
	enter(t, b, "SLIP", sets(4, "ONE", 9))
	stock(t, b, "ONE", 3)
	stock(t, b, "TWO", 1)
	tests := []struct {
		name    string
		parcels []store.Parcel
		want    []string
	}{
		{"nothing", nil, []string{"parcels"}},
		{"unknown", []store.Parcel{{Line: "none", Sets: 1}}, []string{"parcels[0].line"}},
		{"none of it", []store.Parcel{{Line: "O-00002/1"}}, []string{"parcels[0].sets"}},
		{"more than open and there", []store.Parcel{{Line: "O-00002/1", Sets: 5}}, []string{"parcels[0].sets", "parcels[0].sets"}},
		{"more than there", []store.Parcel{{Line: "O-00002/1", Sets: 4}}, []string{"parcels[0].sets"}},
		{"twice", []store.Parcel{{Line: "O-00002/1", Sets: 1}, {Line: "O-00002/1", Sets: 1}}, []string{"parcels[1].line"}},
		{"half an order that ships complete", []store.Parcel{{Line: "O-00001/1", Sets: 2}}, []string{"parcels[0].line"}},
		{"together too many", []store.Parcel{
			{Line: "O-00001/1", Sets: 2}, {Line: "O-00001/2", Sets: 1}, {Line: "O-00002/1", Sets: 2},
		}, []string{"parcels[2].sets"}},
	}
	for _, test := range tests {
		_, err := b.Ship(t.Context(), test.parcels, "")
		wantPaths(t, test.name, err, test.want...)
	}
	ship := must[store.Shipment](t)(b.Ship(t.Context(), []store.Parcel{
		{Line: "O-00001/1", Sets: 2}, {Line: "O-00001/2", Sets: 1}, {Line: "O-00002/1", Sets: 1},
	}, "by boat"))
	all := must[[]store.Shipment](t)(b.Shipments(t.Context(), store.ShipmentFilter{Line: "O-00002/1"}))
	if diff := cmp.Diff([]store.Shipment{ship}, all); diff != "" {
		t.Errorf("shipments (-want +got):\n%s", diff)
	}
	if h := holding(t, b, "ONE"); h.OnHand != 0 || h.Wanted != 3 {
		t.Errorf("after it: %+v", h)
	}
	_, err := b.ChangeLine(t.Context(), "O-00002/1", store.LineTerms{Product: "TWO", Quantity: 1, Due: day(1)}, 0)
	wantPaths(t, "product of what has shipped", err, "product")
	balanced(t, b)
}

// A line for the shelf is served by what stays there.
func TestShip_ToShelf(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	line := must[store.Line](t)(b.EnterRestock(t.Context(), sets(2, "ONE", 9)))
	stock(t, b, "ONE", 2)
	must[store.Shipment](t)(b.Ship(t.Context(), []store.Parcel{{Line: line.ID, Sets: 2}}, ""))
	if h := holding(t, b, "ONE"); h.OnHand != 2 || h.Wanted != 0 {
		t.Errorf("after it: %+v", h)
	}
	balanced(t, b)
}

// Whatever is entered, changed, moved and shipped, in whatever order, the books
// balance and export a valid shop.
func TestDemand_Balance(t *testing.T) {
	for seed := range uint64(4) {
		b, _ := openDesk(t)
		dice := rand.New(rand.NewPCG(seed, 0))
		refused := 0
		for range 20 {
			if err := anything(t, b, dice); err != nil {
				refused++
				if !errors.Is(err, store.ErrConflict) && !errors.Is(err, store.ErrNotFound) && paths(err) == nil {
					t.Fatal(err)
				}
			}
			balanced(t, b)
		}
		if refused == 20 {
			t.Errorf("seed %d: nothing was done", seed)
		}
	}
}

// anything does one thing of those that move demand or stock.
func anything(t *testing.T, b *store.Books, dice *rand.Rand) error {
	t.Helper()
	terms := sets(1+dice.IntN(6), []string{"ONE", "TWO"}[dice.IntN(2)], 9)
	line := "none"
	if all := must[[]store.Line](t)(b.Lines(t.Context(), store.LineFilter{})); len(all) > 0 {
		line = all[dice.IntN(len(all))].ID
	}
	switch dice.IntN(7) {
	case 0:
		dealer := []string{"GULL", "SLIP"}[dice.IntN(2)]
		return second(b.EnterOrder(t.Context(), store.NewOrder{
			OrderTerms: store.OrderTerms{Dealer: dealer}, Lines: []store.LineTerms{terms, sets(1, "ONE", 5)},
		}))
	case 1:
		return second(b.ChangeLine(t.Context(), line, terms, 0))
	case 2:
		return second(b.CancelLine(t.Context(), line, 0))
	case 3:
		return second(b.MoveStock(t.Context(), terms.Product, dice.IntN(9)-3, store.StockCounted, ""))
	case 4:
		return second(b.PutLevel(t.Context(), terms.Product, store.LevelTerms{Sets: terms.Quantity, Days: 5, Weight: 1}, 0))
	case 5:
		return second(b.EnterRestock(t.Context(), terms))
	}
	return second(b.Ship(t.Context(), []store.Parcel{{Line: line, Sets: terms.Quantity}}, ""))
}
