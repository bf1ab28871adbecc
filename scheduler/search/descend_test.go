package search_test

import (
	"bytes"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// built returns random shops with their first answers.
func built(n uint64) (shops []*shop.Shop, answers []*answer.Answer) {
	for seed := range n {
		s := shoptest.Make(seed, shoptest.Size{Products: 1 + int(seed%15), Pieces: 60, Days: 3 + int(seed%9)})
		if seed%6 == 0 {
			s = shoptest.Grow(200, seed)
		}
		s = shoptest.Accepted(s)
		shops, answers = append(shops, s), append(answers, construct.Build(instance.New(s), construct.Rules[3], nil))
	}
	return shops, answers
}

// A descent never costs, mostly gains, ends in a valid plan, and does the same
// again.
func TestDescend(t *testing.T) {
	if testing.Short() {
		t.Skip("a descent has one goroutine")
	}
	shops, answers := built(36)
	_, again := built(36)
	gained := 0
	for i, a := range answers {
		before := a.Cost().Total()
		tries := search.Descend(a, search.Descent{Tries: 3000})
		if a.Cost().Total() > before || tries > 3000 {
			t.Errorf("shop %d: %d before, %d after %d tries", i, before, a.Cost().Total(), tries)
		}
		if a.Cost().Total() < before {
			gained++
		}
		p := a.Plan()
		for _, b := range check.Plan(shops[i], p).Breaches {
			if b.Rule != check.RuleBound {
				t.Errorf("shop %d: %s", i, b)
			}
		}
		if search.Descend(again[i], search.Descent{Tries: 3000}) != tries || !bytes.Equal(again[i].Plan().Encode(), p.Encode()) {
			t.Errorf("shop %d: the second time it goes elsewhere", i)
		}
	}
	if gained < 18 {
		t.Errorf("of 36 answers only %d gained", gained)
	}
}

// At the bottom no change betters, and a descent from there changes nothing.
func TestDescend_Bottom(t *testing.T) {
	_, answers := built(12)
	for i, a := range answers {
		search.Descend(a, search.Descent{Tries: 100000})
		before := a.Plan().Encode()
		if tries := search.Descend(a, search.Descent{Tries: 100000}); !bytes.Equal(a.Plan().Encode(), before) {
			t.Errorf("shop %d: at the bottom %d more tries change the plan", i, tries)
		}
	}
}

// A descent goes down by the measure that it is given, tries only what it is
// told to, and no more than it may.
func TestDescend_Bounds(t *testing.T) {
	_, answers := built(12)
	for i, a := range answers {
		starts := func() (sum int64) {
			for _, l := range a.LoadsOf(0) {
				sum += int64(l.In)
			}
			return sum
		}
		asked := 0
		only := func(c answer.Change) bool {
			asked++
			return asked%2 == 0
		}
		before := starts()
		tries := search.Descend(a, search.Descent{Tries: 7, Only: only, Measure: starts})
		if starts() > before || tries > 7 || tries != asked/2 {
			t.Errorf("shop %d: oven starts sum up to %d, before to %d, after %d tries of %d asked for", i, starts(), before, tries, asked)
		}
	}
}
