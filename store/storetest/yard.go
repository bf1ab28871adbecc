package storetest

import (
	"testing"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/store"
)

// Yard returns a small invented shop, to import and to change: that of
// shoptest.Bare, with a product ONE of one section, TWO of two, and a second
// oven and profile.
func Yard() *shop.Shop {
	s := shoptest.Bare()
	s.Name = "Two-oven yard (invented)"
	s.Products = []shop.Product{shoptest.BareProduct("ONE", "ONE-A"), shoptest.BareProduct("TWO", "TWO-A", "TWO-B")}
	s.Profiles = append(s.Profiles, shoptest.BareProfile("long", 120))
	s.Ovens = append(s.Ovens, shoptest.BareOven("spare", "cure", "long"))
	return s
}

// OpenYard returns new books that hold Yard.
func OpenYard(t testing.TB) (*store.Books, *Clock) {
	t.Helper()
	b, clock := Open(t)
	Import(t, b, Yard())
	return b, clock
}

// Import imports a shop into empty books.
func Import(t testing.TB, b *store.Books, s *shop.Shop) {
	t.Helper()
	if err := b.Import(t.Context(), s.Encode()); err != nil {
		t.Fatal(err)
	}
}
