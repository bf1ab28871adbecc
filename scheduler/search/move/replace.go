package move

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Replace makes other sets than those that are made: where there is not room for
// all, it chooses whose there is room for.
type Replace struct{}

// Name returns the move's name in a trace.
func (Replace) Name() string { return "replace" }

// Propose proposes to take a product out of a load, or out of all that carry it
// where these are few, and to hang spare pieces of a product whose sets are late
// or missing there; what finds no room goes into loads of its own.
func (Replace) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	left := startable(a, r)
	product, ok := left.missed(a, r)
	if !ok || len(a.Loads) == 0 {
		return answer.Change{}, false
	}
	l := pick(a, r)
	leaves := a.In.Sections[l.Runs[r.IntN(len(l.Runs))].Section].Product
	if leaves == product {
		return answer.Change{}, false
	}
	old := []*line.Load{l}
	if all := a.LoadsOf(leaves); len(all) <= replacedAtMost && r.IntN(2) == 0 {
		old = inOrder(all)
	}
	boxes := emptyLike(old)
	for i, b := range boxes {
		b.runs = slices.DeleteFunc(slices.Clone(old[i].Runs), func(run rack.Run) bool {
			return a.In.Sections[run.Section].Product == leaves
		})
	}
	var rest []rack.Run
	for _, run := range left.sets(a.In, r, product) {
		for _, b := range boxes {
			run.Pieces -= b.take(a.In, run)
		}
		if run.Pieces > 0 {
			rest = append(rest, run)
		}
	}
	own, ok := begun(a, r, rest, old[0].In)
	if !ok {
		return answer.Change{}, false
	}
	c, ok := filled(a, old, boxes)
	c.In = append(c.In, own...)
	return c, ok
}

// replacedAtMost is out of how many loads a product is taken at once.
const replacedAtMost = 4

// missed draws a product of which something is left, the more likely the more its
// late sets cost.
func (left store) missed(a *answer.Answer, r *rand.Rand) (product int, ok bool) {
	sum := answer.Money(0)
	cost := func(p int) answer.Money {
		if left.has(&a.In.Products[p]) {
			return 1 + a.LateOf(p)
		}
		return 0
	}
	for p := range a.In.Products {
		sum += cost(p)
	}
	if sum == 0 {
		return 0, false
	}
	x := r.Int64N(sum)
	for x -= cost(0); x >= 0; x -= cost(product) {
		product++
	}
	return product, true
}
