package scheduler

import (
	"math/rand/v2"
	"slices"
	"sort"
	"sync"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/ovens"
	"blankwright/scheduler/search"
)

// A start is a first answer and the rule that made it.
type start struct {
	rule construct.Rule
	a    *answer.Answer
}

// first returns the cheapest of the first answers, the cheapest first. Where the
// search can begin with few of them only, not every rule is tried, but others near
// the best. The first of them is there within moments; where even that is too late,
// it stays unfinished.
func (r *run) first() []*answer.Answer {
	if r.ctx.Err() != nil {
		return nil
	}
	rules := construct.RulesFor(r.in)
	list := r.build(rules[:1])
	r.tell(0, list[0].a.Cost().Total())
	starts := search.StartsFor(r.o.Effort, list[0].a)
	rules = rules[1:min(len(rules), 2*starts)]
	for len(rules) > 0 && !r.over() {
		n := min(sideBySide, len(rules))
		list = r.gather(list, rules[:n], starts)
		rules = rules[n:]
	}
	if starts < search.Starts {
		list = r.varied(list, starts)
	}
	return r.withOvens(list, max(starts, len(list)))
}

// varied adds what rules near the best make. In a large shop that finds more in its
// time than moves do; in a small one, where moves go far, it brings nothing. What was
// best before stays, as it may be worth more than they are once it is tidied.
func (r *run) varied(list []start, starts int) []start {
	before := list[0]
	rounds := min(mostRounds, r.o.Effort*roundsPerTurn/(1+len(list[0].a.Loads)))
	for round := 0; (round < rounds || r.ample()) && !r.over() && list[0].a.Cost().Total() > r.enough(); round++ {
		var near [sideBySide]construct.Rule
		for i := range near {
			chance := rand.New(rand.NewPCG(r.o.Seed, uint64(sideBySide*round+i)))
			near[i] = construct.Vary(list[0].rule, chance)
		}
		list = r.gather(list, near[:], starts)
	}
	if slices.ContainsFunc(list, func(s start) bool { return s.a == before.a }) {
		return list
	}
	return append(list, before)
}

// ample reports whether there is time to fill for another round of varied rules.
func (r *run) ample() bool {
	return r.o.Fill && r.o.Spent != nil && r.o.Spent() < variedUntil
}

// variedUntil is the share of a time to fill after which rules are no longer varied.
const variedUntil = 0.25

// sideBySide is how many answers are built at a time. There are at most mostRounds
// of varied ones, and roundsPerTurn for each iteration that the effort gives a load.
const (
	sideBySide    = 2
	mostRounds    = 24
	roundsPerTurn = 4
)

// gather adds what rules make, and keeps the cheapest.
func (r *run) gather(list []start, rules []construct.Rule, starts int) []start {
	list = cheapest(append(list, r.build(rules)...), starts)
	r.tell(0, list[0].a.Cost().Total())
	return list
}

// build builds an answer by each rule, side by side.
func (r *run) build(rules []construct.Rule) []start {
	list := make([]start, len(rules))
	var all sync.WaitGroup
	for i, rule := range rules {
		all.Go(func() { list[i] = start{rule, construct.Build(r.in, rule, r.interrupted)} })
	}
	all.Wait()
	return list
}

// withOvens adds a first answer for which the ovens were planned alone. Where a
// glance at them makes the cheapest, and the timetable makes it hardly dearer, they are
// what is scarce, and worth more.
func (r *run) withOvens(list []start, starts int) []*answer.Answer {
	for _, share := range []int{glance, 1} {
		steps := stepsPerIteration * min(r.o.Effort, mostForOvens) / share
		if steps == 0 || r.over() || list[0].a.Cost().Total() <= r.enough() {
			break
		}
		a, alike := construct.ByOvens(r.in, ovens.Options{Seed: r.o.Seed, Steps: steps, Stop: r.over})
		list = cheapest(append(list, start{a: a}), starts)
		r.tell(0, list[0].a.Cost().Total())
		if list[0].a != a || !alike {
			break
		}
	}
	var answers []*answer.Answer
	for _, s := range list {
		answers = append(answers, s.a)
	}
	return answers
}

// A step of a search for the ovens alone takes about a fortieth of an iteration's
// time. A glance is one of so many parts of them. More iterations than mostForOvens are
// for the search of the whole alone, which a long glance would keep from beginning.
const (
	stepsPerIteration = 24
	glance            = 64
	mostForOvens      = 1 << 18
)

// cheapest returns at most n starts, the cheapest first.
func cheapest(list []start, n int) []start {
	sort.SliceStable(list, func(i, j int) bool { return list[i].a.Cost().Total() < list[j].a.Cost().Total() })
	return list[:min(len(list), n)]
}
