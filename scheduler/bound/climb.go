package bound

import "slices"

// The climb takes as many steps as its work allows, and none in shops that are too
// large for it.
const (
	mostSteps = 250
	mostWork  = 30e6 // items hung, all steps together
	tooMuch   = 4e6  // items hung in one step
)

// A climb raises a timing's bound by moving prices to where pieces are lacking: a
// subgradient method, which hopes for some rise and goes as far as that would take.
// Hope grows with success, and falls where there has been none for a while.
type climb struct {
	*timing
	scale []float64 // by job: what a day of being late costs
	limit []float64 // by job: a price at which none of its sets is made
	move  []float64 // by job: this step's direction, with some of those before it
	low   float64   // the bound at hand, and what pieces are lacking there
	lack  []float64
	top   float64 // the highest bound so far, and its prices
	best  []Money
	hope  float64
	stall int  // steps since the last success
	risen bool // whether there has been one
}

const (
	momentum = 0.7 // of the steps before
	hopeful  = 0.3 // of the bound to begin with
	success  = 0.2 // of hope
	grows    = 1.5
	falls    = 0.6
	patience = 8 // steps without success
	atFirst  = 4 // the same, before the first one
	hopeless = 0.001
)

// climbed returns the highest bound that a climb comes to. It ends where a goal is
// out of hope.
func (t *timing) climbed(goal Money) Money {
	first, lack := t.value()
	if t.work() > tooMuch {
		return first
	}
	c := newClimb(t, first, lack)
	c.narrow()
	steps := min(mostSteps, int(mostWork/(1+t.work())))
	for range steps {
		if c.hope < hopeless*c.top || c.top+c.hope < float64(goal) || !c.step() {
			break
		}
	}
	for w := range t.ways {
		t.ways[w].all()
	}
	copy(t.price, c.best)
	last, _ := t.value()
	return max(first, last)
}

func newClimb(t *timing, low Money, lack []float64) *climb {
	c := &climb{timing: t, move: make([]float64, len(t.jobs)), low: float64(low), lack: lack, scale: make([]float64, len(t.jobs))}
	c.top, c.best = c.low, slices.Clone(t.price)
	day := 0.0
	for j := range t.jobs {
		c.scale[j] = float64(t.jobs[j].dearest()) + 1
		day += c.scale[j] * float64(t.jobs[j].good)
	}
	c.hope = max(hopeful*c.low, day)
	c.limit = make([]float64, len(t.jobs))
	for i := range t.all {
		for _, j := range t.all[i].jobs {
			c.limit[j] = max(c.limit[j], float64(t.all[i].never)+1)
		}
	}
	return c
}

// dearest returns the most that a day costs a piece.
func (j *job) dearest() (most Money) {
	for d := 1; d < len(j.late); d++ {
		if j.late[d] < forbidden {
			most = max(most, j.late[d]-j.late[d-1])
		}
	}
	return most
}

// narrow leaves only those kinds of loads to be tried that are best for some class
// when prices are a little higher. What this proves counts only once all kinds have
// been tried again.
func (c *climb) narrow() {
	const higher = 20
	for j := range c.price {
		c.price[j] += c.price[j]/higher + Money(c.scale[j])/higher
	}
	c.value()
	for w := range c.ways {
		c.ways[w].only(c.gains[w])
	}
	copy(c.price, c.best)
}

// all lets all kinds be tried.
func (w *wayKinds) all() {
	w.tried = w.tried[:0]
	for k := range w.kinds {
		w.tried = append(w.tried, k)
	}
}

// only lets those be tried that some gain is of.
func (w *wayKinds) only(gains []gain) {
	best := make([]bool, len(w.kinds))
	for _, g := range gains {
		best[g.kind] = true
	}
	w.tried = w.tried[:0]
	for k := range w.kinds {
		if best[k] {
			w.tried = append(w.tried, k)
		}
	}
}

// work returns about how many items all fills of a step sort and hang, and cells it
// passes.
func (t *timing) work() float64 {
	const sorting = 8
	items, cells := sorting*len(t.jobs), 0
	for o := range t.ovens {
		for _, next := range t.ovens[o].next {
			cells += len(next)
		}
	}
	for w := range t.ways {
		suited := 0
		for j := range t.jobs {
			if t.wishes.in.Sections[t.jobs[j].section].Profiles[t.ways[w].Profile] {
				suited++
			}
		}
		items += len(t.ways[w].tried) * (suited + len(t.jobs)/4)
	}
	return float64(items)*float64(len(t.classes)) + float64(cells)
}

// step moves all prices, and reports whether there was anywhere to go.
func (c *climb) step() bool {
	norm := 0.0
	for j, lack := range c.lack {
		c.move[j] = lack + momentum*c.move[j]
		norm += c.scale[j] * c.move[j] * c.move[j]
	}
	if norm == 0 {
		return false
	}
	length := (c.top + c.hope - c.low) / norm
	for j, move := range c.move {
		c.price[j] = Money(min(max(0, float64(c.price[j])+length*c.scale[j]*move), c.limit[j]))
	}
	low, lack := c.value()
	c.low, c.lack = float64(low), lack
	c.stall++
	c.reached()
	if c.stall > patience || c.stall > atFirst && !c.risen {
		c.hope, c.stall = falls*c.hope, 0
	}
	return true
}

// reached keeps the point at hand if it is the highest.
func (c *climb) reached() {
	rise := c.low - c.top
	if rise <= 0 {
		return
	}
	if rise > success*c.hope {
		c.hope, c.stall, c.risen = grows*c.hope, 0, true
	}
	c.top = c.low
	copy(c.best, c.price)
}
