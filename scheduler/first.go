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

// first returns the cheapest of the first answers, the cheapest first: those of the
// rules and of others near the best. Where the search can begin with few of them only,
// not every rule is tried. The first of them is there within moments; where even that
// is too late, it stays unfinished.
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
	theirs, scarce := r.byOvens(list[0].a)
	if !scarce {
		list = r.varied(list, starts)
	}
	return r.answers(list, theirs, max(starts, len(list)))
}

// varied adds what rules near the best make. In a large shop that finds more in its
// time than moves do, and in a smaller one moves go further from there. Only the best
// of all take the place of what the rules had made: beginnings that are all alike lead
// to one end.
func (r *run) varied(list []start, starts int) []start {
	before := slices.Clone(list)
	rounds := r.rounds(list[0].a, starts)
	for round := 0; r.another(round, rounds, starts) && list[0].a.Cost().Total() > r.enough(); round++ {
		var near [sideBySide]construct.Rule
		for i := range near {
			chance := rand.New(rand.NewPCG(r.o.Seed, uint64(sideBySide*round+i)))
			from := list[chance.IntN(min(variedOf, len(list)))].rule
			near[i] = construct.Vary(from, len(r.in.Lines), chance)
		}
		list = r.gather(list, near[:], max(starts, variedOf))
	}
	kept := slices.Clone(list[:min(bestOfAll, len(list))])
	for k, s := range before {
		known := slices.ContainsFunc(kept, func(other start) bool { return other.a == s.a })
		// What was best stays, as it may be worth more than they are once it is tidied.
		if !known && (k < bestOfAll || len(kept) < starts) {
			kept = append(kept, s)
		}
	}
	return kept
}

// variedOf is of how many of the cheapest answers the rules are varied: the cheapest
// alone leads to what is like it.
const variedOf = 3

// bestOfAll is how many of the cheapest answers begin, whatever made them.
const bestOfAll = 2

// rounds returns how many rounds of varied rules suit the effort: a small part of it,
// where the search has time for many beginnings, else about half of the time.
func (r *run) rounds(like *answer.Answer, starts int) int {
	loads := 1 + len(like.Loads)
	if starts < search.Starts {
		return min(mostRounds, r.o.Effort*roundsPerTurn/loads)
	}
	return min(mostRounds, r.o.Effort/(turnsPerRound*loads))
}

// another reports whether another round of varied rules begins. In a large shop with
// time to fill there may be more than suit the effort; where the search could begin with
// many, there are fewer if they take too much of a limited time.
func (r *run) another(round, rounds, starts int) bool {
	if r.over() {
		return false
	}
	limited := r.o.Spent != nil
	if starts < search.Starts {
		return round < rounds || limited && r.o.Fill && r.o.Spent() < variedUntil
	}
	r.short = limited && round < rounds && r.o.Spent() >= variedUntil
	return round < rounds && !r.short
}

// variedUntil is the share of a limited time after which rules are no longer varied.
const variedUntil = 0.25

// sideBySide is how many answers are built at a time. There are at most mostRounds of
// varied ones: roundsPerTurn for each iteration that the effort gives a load, or, where
// these are many, one for turnsPerRound of them.
const (
	sideBySide    = 2
	mostRounds    = 48
	roundsPerTurn = 24
	turnsPerRound = 12
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

// byOvens returns a first answer for which the ovens were planned alone, nil where
// there is no time for it, and whether they are what is scarce: a glance at them makes
// a cheaper answer than all rules did, and the timetable makes it hardly dearer. Then
// they are worth a long look, and other rules are not.
func (r *run) byOvens(best *answer.Answer) (theirs *answer.Answer, scarce bool) {
	for _, share := range []int{glance, 1} {
		steps := stepsPerIteration * min(r.o.Effort, mostForOvens) / share
		if steps == 0 || r.over() || best.Cost().Total() <= r.enough() {
			break
		}
		a, alike := construct.ByOvens(r.in, ovens.Options{Seed: r.o.Seed, Steps: steps, Stop: r.over})
		if theirs == nil || a.Cost().Total() < theirs.Cost().Total() {
			theirs = a
		}
		if !alike || theirs.Cost().Total() >= best.Cost().Total() {
			break
		}
		scarce = true
	}
	return theirs, scarce
}

// answers returns the answers of a list and that for the ovens, the cheapest first and
// at most so many.
func (r *run) answers(list []start, theirs *answer.Answer, most int) (all []*answer.Answer) {
	if theirs != nil {
		list = cheapest(append(list, start{a: theirs}), most)
		r.tell(0, list[0].a.Cost().Total())
	}
	for _, s := range list {
		all = append(all, s.a)
	}
	return all
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
