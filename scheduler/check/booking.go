package check

import (
	"cmp"
	"slices"
)

// A booking is the span in which some work has an oven or a position, of which
// there is one.
type booking struct {
	span
	released bool
	where    string // the work
}

// A clash is two bookings at once. The first is no released work's.
type clash struct{ booking, with booking }

// clashes returns for each booking at most one that it clashes with, the one
// that lasts longest. Released work is not judged against released work.
func clashes(bookings []booking) []clash {
	slices.SortStableFunc(bookings, func(a, b booking) int { return cmp.Compare(a.from, b.from) })
	var found []clash
	longest := map[bool]booking{} // by whether it is released
	for _, b := range bookings {
		with := longest[false]
		if held := longest[true]; !b.released && held.to > with.to {
			with = held
		}
		if with.where != "" && b.from < with.to {
			if b.released {
				found = append(found, clash{with, b})
			} else {
				found = append(found, clash{b, with})
			}
		}
		if b.to > longest[b.released].to {
			longest[b.released] = b
		}
	}
	return found
}
