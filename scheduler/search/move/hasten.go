package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Hasten takes what a product's late sets wait for to an earlier load.
type Hasten struct{}

// Name returns the move's name in a trace.
func (Hasten) Name() string { return "hasten" }

// Propose proposes to move the pieces of a late product from a load to an
// earlier one, or into an earlier load of their own.
func (Hasten) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	product, from := late(a, r)
	if from == nil {
		return answer.Change{}, false
	}
	runs := productRuns(a.In, from, product)
	c := answer.Change{Out: []*line.Load{from}}
	rest := from.Runs
	for _, run := range runs {
		rest = without(rest, run.Section, run.Pieces)
	}
	if len(rest) > 0 {
		smaller, ok := changed(a, from, rest)
		if !ok {
			return answer.Change{}, false
		}
		c.In = append(c.In, smaller)
	}
	if to := earlier(a, r, from); to != nil && r.IntN(4) > 0 {
		bigger, ok := changed(a, to, combined(a.In, to.Runs, runs))
		c.Out, c.In = append(c.Out, to), append(c.In, bigger)
		return c, ok
	}
	own, ok := changed(a, from, runs)
	if ok {
		own.Target = a.In.Midnight(a.In.Day(from.In) - 1 - r.IntN(6))
		own.Latest = from.In
		c.In = append(c.In, own)
	}
	return c, ok
}

// late draws a product, the more likely the more its late sets cost, and one of
// the later loads that carry it; nil where no product is late.
func late(a *answer.Answer, r *rand.Rand) (product int, l *line.Load) {
	sum := answer.Money(0)
	for p := range a.In.Products {
		sum += a.LateOf(p)
	}
	if sum == 0 {
		return 0, nil
	}
	x := r.Int64N(sum)
	for x -= a.LateOf(product); x >= 0; x -= a.LateOf(product) {
		product++
	}
	loads := a.LoadsOf(product)
	for range 2 {
		if len(loads) == 0 {
			return product, nil
		}
		if o := loads[r.IntN(len(loads))]; l == nil || o.In > l.In {
			l = o
		}
	}
	return product, l
}

// lateShare returns what a set of a product costs in late days, on average.
func lateShare(a *answer.Answer, product int) float64 {
	return float64(a.LateOf(product)) / float64(1+a.In.Wanted(product))
}

func productRuns(in *instance.Instance, l *line.Load, product int) (runs []rack.Run) {
	for _, run := range l.Runs {
		if in.Sections[run.Section].Product == product {
			runs = append(runs, run)
		}
	}
	return runs
}

// earlier returns a load that goes in before l, at most ten days.
func earlier(a *answer.Answer, r *rand.Rand, l *line.Load) *line.Load {
	for range 8 {
		if o := pick(a, r); o.In < l.In && l.In-o.In < 10*1440 {
			return o
		}
	}
	return nil
}
