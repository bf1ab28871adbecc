package scheduler

import (
	"math/rand/v2"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/search"
)

// varied adds what rules near the best make. In a large shop that finds more in its
// time than moves do, and in a smaller one moves go further from there. Only the best
// of all take the place of what the rules had made: beginnings that are all alike lead
// to one end.
func (r *run) varied(list []start, starts int) []start {
	before := slices.Clone(list)
	rounds := r.rounds(list[0].a, starts)
	v := variationFor(starts)
	for round := 0; r.another(round, rounds, starts) && list[0].a.Cost().Total() > r.enough(); round++ {
		var near [sideBySide]recipe
		for i := range near {
			near[i] = v.of(list, len(r.in.Lines), rand.New(rand.NewPCG(r.o.Seed, uint64(sideBySide*round+i))))
		}
		list = r.gather(list, near[:], max(starts, v.pool))
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

// A variation says how rules are varied: those of the cheapest answers, as many as the
// pool holds, for the cheapest alone leads to what is like it; oneIn lines are favoured
// otherwise; and first loads are kept, or all are made anew.
type variation struct {
	pool, oneIn int
	keeps       bool
}

// variationFor returns the variation for searches with so many beginnings. In a large
// shop, where a change at the beginning upsets all that follows, what an answer does well
// is kept while the rest of it is tried anew.
func variationFor(starts int) variation {
	if starts < search.Starts {
		return variation{pool: 6, oneIn: 32, keeps: true}
	}
	return variation{pool: 3, oneIn: 16}
}

// of returns a recipe near those of the cheapest answers of a list.
func (v *variation) of(list []start, lines int, chance *rand.Rand) (near recipe) {
	from := list[chance.IntN(min(v.pool, len(list)))]
	near.rule = construct.Vary(from.rule, lines, v.oneIn, chance)
	if n := len(from.a.Loads); v.keeps && n > 0 {
		near.like, near.kept = from, chance.IntN(n)
	}
	return near
}

// bestOfAll is how many of the cheapest answers begin, whatever made them.
const bestOfAll = 2

// rounds returns how many rounds of varied rules suit the effort: a small part of it,
// where the search has time for many beginnings, else most of the time.
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
		return round < rounds || limited && r.o.Fill && r.o.Spent() < rebuiltUntil
	}
	r.short = limited && round < rounds && r.o.Spent() >= variedUntil
	return round < rounds && !r.short
}

// variedUntil is the share of a limited time after which rules are no longer varied;
// rebuiltUntil that in a large shop with time to fill, where moves find little.
const (
	variedUntil  = 0.25
	rebuiltUntil = 0.7
)

// There are at most mostRounds of varied answers: roundsPerTurn for each iteration that
// the effort gives a load, or, where these are many, one for turnsPerRound of them.
const (
	mostRounds    = 48
	roundsPerTurn = 5
	turnsPerRound = 12
)
