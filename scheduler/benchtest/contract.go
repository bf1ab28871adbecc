package benchtest

import (
	"testing"

	"blankwright/scheduler/shop"
)

// Contract returns one of the contract's own shops, as small.
func Contract(t testing.TB, name string) *shop.Shop {
	t.Helper()
	s, err := shop.Read([]byte(outside(t, "../shops/"+name+".json")))
	if err != nil {
		t.Fatal(err)
	}
	return s
}
