package cost

import (
	"slices"

	"blankwright/scheduler/instance"
)

// paths are what a search for a ring knows so far, by date; what goes from date to
// date is kept row by row.
type paths struct {
	dates  []when
	of     []int   // by place: its date
	moving []Money // from date to date: what the set costs more that costs least more
	mover  []int   // from date to date: the place of that set
	far    []Money // what the cheapest path that ends here costs
	from   []int   // the date before on that path
	seen   []int   // by which walk, counted from 1
	ring   []int
}

// ring returns shares, each of which takes the place of the next and the last
// that of the first, by which the cost falls; nil where there are none, and the
// shares are the cheapest. It is Bellman's and Ford's search for a negative
// cycle, among the dates: there are much fewer of them than shares.
func (t *tally) ring() []int {
	w := &t.paths
	w.begin(t.places)
	n := len(w.dates)
	for nearer := true; nearer; {
		nearer = false
		for d, far := range w.far {
			for e, more := range w.moving[d*n : d*n+n] {
				if more += far; more < w.far[e] {
					w.far[e], w.from[e], nearer = more, d, true
				}
			}
		}
		if nearer {
			if ring := w.closed(); ring != nil {
				return ring
			}
		}
	}
	return nil
}

// noWay is more than any path costs.
const noWay Money = 1 << 62

// begin prices the way from each date to each other.
func (w *paths) begin(places []place) {
	w.dates, w.of = w.dates[:0], w.of[:0]
	for i := range places {
		d := slices.Index(w.dates, places[i].when)
		if d < 0 {
			d, w.dates = len(w.dates), append(w.dates, places[i].when)
		}
		w.of = append(w.of, d)
	}
	n := len(w.dates)
	w.far, w.from = append(w.far[:0], make([]Money, n)...), w.from[:0]
	w.moving, w.mover = w.moving[:0], append(w.mover[:0], make([]int, n*n)...)
	for range n * n {
		w.moving = append(w.moving, noWay)
	}
	for range n {
		w.from = append(w.from, instance.None)
	}
	for i := range places {
		w.price(i, &places[i])
	}
}

// price prices the ways from a place's date.
func (w *paths) price(i int, p *place) {
	row := len(w.dates) * w.of[i]
	for e, at := range w.dates {
		if e == w.of[i] {
			continue
		}
		if more := p.pressing(at) - p.cost; more < w.moving[row+e] {
			w.moving[row+e], w.mover[row+e] = more, i
		}
	}
}

// closed returns the movers of a ring among links that each name the date before; nil
// where there is none.
func (w *paths) closed() []int {
	n := len(w.dates)
	w.seen = append(w.seen[:0], make([]int, n)...)
	for start := range w.from {
		at := start
		for at != instance.None && w.seen[at] == 0 {
			w.seen[at] = start + 1
			at = w.from[at]
		}
		if at == instance.None || w.seen[at] != start+1 {
			continue
		}
		w.ring = w.ring[:0]
		for d, first := at, true; first || d != at; first = false {
			w.ring = append(w.ring, w.mover[w.from[d]*n+d])
			d = w.from[d]
		}
		slices.Reverse(w.ring)
		return w.ring
	}
	return nil
}
