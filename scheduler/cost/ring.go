package cost

import (
	"slices"

	"blankwright/scheduler/instance"
)

// paths are what a search for a ring knows so far, by place.
type paths struct {
	moving []Money // from place to place: what a set costs more at the other
	far    []Money // what the cheapest path that ends here costs
	from   []int   // the place before on that path
	seen   []int   // by which walk, counted from 1
	ring   []int
}

// ring returns shares, each of which takes the place of the next and the last
// that of the first, by which the cost falls; nil where there are none, and the
// shares are the cheapest. It is Bellman's and Ford's search for a negative
// cycle.
func (t *tally) ring() []int {
	w := &t.paths
	w.begin(t.places)
	n := len(t.places)
	for nearer := true; nearer; {
		nearer = false
		for i := range n {
			far := w.far[i]
			for j, more := range w.moving[i*n : i*n+n] {
				if more += far; more < w.far[j] {
					w.far[j], w.from[j], nearer = more, i, true
				}
			}
		}
		if ring := w.closed(); ring != nil {
			return ring
		}
	}
	return nil
}

// noWay is more than any path costs.
const noWay Money = 1 << 62

// begin prices the way from each place to each other.
func (w *paths) begin(places []place) {
	w.moving, w.far, w.from = w.moving[:0], w.far[:0], w.from[:0]
	for i := range places {
		for j := range places {
			more := noWay
			if places[i].apart(&places[j]) {
				more = places[i].moving(&places[j])
			}
			w.moving = append(w.moving, more)
		}
		w.far, w.from = append(w.far, 0), append(w.from, instance.None)
	}
}

// closed returns a ring among links that each name the one before; nil where
// there is none.
func (w *paths) closed() []int {
	w.seen = append(w.seen[:0], make([]int, len(w.from))...)
	for start := range w.from {
		at := start
		for at != instance.None && w.seen[at] == 0 {
			w.seen[at] = start + 1
			at = w.from[at]
		}
		if at == instance.None || w.seen[at] != start+1 {
			continue
		}
		w.ring = append(w.ring[:0], at)
		for before := w.from[at]; before != at; before = w.from[before] {
			w.ring = append(w.ring, before)
		}
		slices.Reverse(w.ring)
		return w.ring
	}
	return nil
}
