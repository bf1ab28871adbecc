package scheduler

import (
	"sort"
	"sync"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/ovens"
	"blankwright/scheduler/search"
)

// A start is a first answer, how it stands, and the rule that made it or its last loads.
type start struct {
	rule construct.Rule
	a    *answer.Answer
	made answer.Snapshot
}

// A recipe is how a first answer is made: by a rule, but for the loads that are kept of
// one like it, where there is one.
type recipe struct {
	rule construct.Rule
	like start
	kept int
}

// first returns the cheapest of the first answers, the cheapest first: those of the
// rules and of others near the best. Where the search can begin with few of them only,
// not every rule is tried. The first of them is there within moments; where even that
// is too late, it stays unfinished.
func (r *run) first() []*answer.Answer {
	if r.ctx.Err() != nil {
		return nil
	}
	var rules []recipe
	for _, rule := range construct.RulesFor(r.in) {
		rules = append(rules, recipe{rule: rule})
	}
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

// sideBySide is how many answers are made at a time.
const sideBySide = 2

// gather adds what recipes make, and keeps the cheapest.
func (r *run) gather(list []start, recipes []recipe, starts int) []start {
	list = cheapest(append(list, r.build(recipes)...), starts)
	r.tell(0, list[0].a.Cost().Total())
	return list
}

// build makes an answer by each recipe, side by side.
func (r *run) build(recipes []recipe) []start {
	list := make([]start, len(recipes))
	var all sync.WaitGroup
	for i, c := range recipes {
		all.Go(func() {
			a := r.follow(c)
			list[i] = start{c.rule, a, a.Snapshot()}
		})
	}
	all.Wait()
	return list
}

func (r *run) follow(c recipe) *answer.Answer {
	if like := c.like.a; like != nil {
		if a := like.CopyOf(c.like.made); construct.Rebuild(a, c.kept, c.rule, r.interrupted) {
			return a
		}
	}
	return construct.Build(r.in, c.rule, r.interrupted)
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
