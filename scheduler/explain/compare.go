package explain

import (
	"cmp"
	"sync"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/binding"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
)

// A comparison is of one plan in shops with one thing more.
type comparison struct {
	s    *shop.Shop
	in   *instance.Instance
	o    Options
	aim  *aim       // nil: none
	plan *plan.Plan // that from which all go on
	base *standing  // where it comes to with nothing more
	// ended says that it came no further than it was: there is nothing left to
	// find that has nothing to do with what is more.
	ended bool
}

// A standing is what a plan costs, and what becomes of its lines.
type standing struct {
	total float64
	last  int64 // of the aim's line; see aim.last
	lines []binding.Line
}

// A variation is the plan in a shop with one thing more, and without it after
// the same changes.
type variation struct {
	with          relax.Relaxation
	more, without *standing
	tries         int
}

// goingOn is how many times longer a plan goes on before it is compared.
const goingOn = 4

// newComparison lets an answer go on, and then once more for the comparison.
func newComparison(s *shop.Shop, a *answer.Answer, m *aim, o Options) *comparison {
	c := &comparison{s: s, in: a.In, o: o, aim: m}
	c.goOn(a, goingOn*o.Tries, nil)
	c.plan = a.Plan()
	again := answer.Read(c.in, c.plan)
	first := c.stand(again)
	c.goOn(again, o.Tries, nil)
	c.base = c.stand(again)
	c.ended = !c.base.better(first)
	return c
}

// goOn lowers an answer's cost, and brings the aim's line forward where there is
// one; that ships no later than it did.
func (c *comparison) goOn(a *answer.Answer, tries int, only func(answer.Change) bool) (tried int) {
	if c.aim == nil {
		return search.Descend(a, search.Descent{Tries: tries, Only: only})
	}
	tried = c.aim.hold(a, tries, only)
	before := c.aim.last(a)
	tried += c.aim.pull(a, tries, c.limit(a))
	if c.aim.last(a) < before {
		tried += c.aim.hold(a, tries, nil)
	}
	return tried
}

// limit returns what an answer may cost at most where it brings the line
// forward: what the plan costs with nothing more.
func (c *comparison) limit(a *answer.Answer) answer.Money {
	if c.base == nil {
		return a.Cost().Total()
	}
	fixed := a.In.ReleasedCost()
	return max(a.Cost().Total(), a.In.Money(c.base.total)-fixed.Oven-fixed.Setup)
}

func (c *comparison) stand(a *answer.Answer) *standing {
	fixed := a.In.ReleasedCost()
	s := &standing{total: a.In.Price(a.Cost().Total() + fixed.Oven + fixed.Setup), lines: binding.Lines(a)}
	if c.aim != nil {
		s.last = c.aim.last(a)
	}
	return s
}

// better reports whether a standing is to be preferred to another: for the aim's
// sake, else for its cost.
func (s *standing) better(than *standing) bool {
	return cmp.Or(cmp.Compare(s.last, than.last), cmp.Compare(s.total, than.total)) < 0
}

// workers is how many shops are gone through side by side.
const workers = 4

// compare goes through the relaxations. The variations stand in their order; one
// that was left out is nil.
func (c *comparison) compare(list []relax.Relaxation) []*variation {
	variations := make([]*variation, len(list))
	next := make(chan int)
	var all sync.WaitGroup
	done := c.counter(len(list))
	for range workers {
		all.Go(func() {
			for i := range next {
				variations[i] = c.vary(list[i])
				done()
			}
		})
	}
	for i := range list {
		if c.o.Stop != nil && c.o.Stop() {
			break
		}
		next <- i
	}
	close(next)
	all.Wait()
	return variations
}

// counter returns what reports that one more is done.
func (c *comparison) counter(all int) func() {
	var telling sync.Mutex
	done := 0
	return func() {
		telling.Lock()
		defer telling.Unlock()
		if done++; c.o.Report != nil {
			c.o.Report(done, all)
		}
	}
}

// vary goes on with the plan in a shop with one thing more. Where nothing was
// left to find without that, it begins with what it can make possible at once,
// and ends there if that brings nothing.
func (c *comparison) vary(r relax.Relaxation) *variation {
	in := instance.New(r.Apply(c.s))
	a := answer.Read(in, c.plan)
	v := &variation{with: r}
	first := c.stand(a)
	if c.ended {
		v.tries = c.goOn(a, c.o.Tries, touched(in, r))
	}
	if !c.ended || c.stand(a).better(first) {
		v.tries += c.goOn(a, c.o.Tries, nil)
	}
	v.more, v.without = c.stand(a), c.echo(a)
	if v.without.better(v.more) {
		v.more = v.without // which stands in the shop with one thing more, too
	}
	return v
}
