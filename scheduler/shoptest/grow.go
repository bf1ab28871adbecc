package shoptest

import "blankwright/scheduler/shop"

// Grow returns a shop in a busy season whose demand is about so many pieces,
// for benchmarks from 500 pieces to 20,000. Ovens, tools and people grow with
// the pace that it must keep, so that it can all be made in the horizon, which
// grows from three weeks to twelve.
func Grow(pieces int, seed uint64) *shop.Shop {
	d := newDice(seed, streamGrow)
	r := recipe{
		products: clamp(pieces/120, 8, 60),
		lines:    clamp(pieces/30, 20, 500),
		pieces:   pieces,
		days:     clamp(21+pieces/200, 21, 84),
		odd:      0.15,
	}
	r.ovens = clamp(share(r.pace(), 110), 2, 8)
	r.racks = 3 * r.ovens
	return build(d, r)
}
