package shoptest

import "blankwright/scheduler/shop"

// TinyPieces is the most pieces that the demand of a tiny shop asks for.
const TinyPieces = 4

// Tiny returns a shop so small that every plan worth comparing can be tried:
// one or two products, as many lines, at most TinyPieces pieces, one oven with
// one bay, one type of rack, one position at each stage, and no yield loss.
func Tiny(seed uint64) *shop.Shop {
	d := newDice(seed, streamTiny)
	r := recipe{
		products: d.between(1, 2), pieces: TinyPieces, days: d.between(2, 6),
		ovens: 1, racks: 1, odd: pick(d, 0, 0.2, 0.5), tiny: true,
	}
	r.lines = r.products
	s := build(d, r)
	for pieces(s) > TinyPieces {
		shrink(s)
	}
	return s
}

// pieces counts the sections of all the sets that demand asks for.
func pieces(s *shop.Shop) int {
	sections := map[string]int{}
	for _, p := range s.Products {
		sections[p.ID] = len(p.Sections)
	}
	n := 0
	for _, line := range s.Demand {
		n += line.Quantity * sections[line.Product]
	}
	return n
}

// shrink takes a set off the first line that has two, else the last line off.
func shrink(s *shop.Shop) {
	for i := range s.Demand {
		if s.Demand[i].Quantity > 1 {
			s.Demand[i].Quantity--
			return
		}
	}
	s.Demand = s.Demand[:len(s.Demand)-1]
}
