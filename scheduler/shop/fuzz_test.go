package shop_test

import (
	"testing"

	"blankwright/scheduler/shop"
)

// No text makes the reader panic, and what it accepts reads back the same.
func FuzzRead(f *testing.F) {
	f.Add(yard(f))
	for _, c := range refusals {
		f.Add(edited(f, c.within, c.old, c.new))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if s, err := shop.Read(data); err == nil {
			readsBack(t, s)
		}
	})
}
