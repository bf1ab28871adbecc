// Package bound proves what no valid plan can cost less than. Each term of the
// cost has relaxations of its own, of which the one that proves most counts;
// terms add up, in each of two cases: that everything wanted is made, or that
// something is left out. The lower of the two is the bound.
//
// It looks at the instance only, never at an answer, and counts in whole money.
// It imports alone, instance, rack and shop.
package bound

import "blankwright/scheduler/instance"

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// Terms is a lower bound by term, the released work's share included.
type Terms struct{ Late, Hold, Oven, Setup Money }

// Total returns the sum of the terms.
func (t Terms) Total() Money { return t.Late + t.Hold + t.Oven + t.Setup }

// A Proof is a lower bound and, by term, the name of the relaxation that proves
// it: empty where nothing is proven.
type Proof struct {
	Terms
	By struct{ Late, Hold, Oven, Setup string }
}

// ovenRelaxations bound what the ovens cost, each alone.
var ovenRelaxations = []struct {
	name string
	of   func(*instance.Instance) ovenBound
}{
	{"loads by mandrels", loadsByMandrels},
}

// setupRelaxations bound what set-ups cost where all that is wanted is made,
// each alone.
var setupRelaxations = []struct {
	name string
	of   func(*instance.Instance) Money
}{
	{"keys to set up", keysToSetUp},
}

// Of returns a lower bound of the cost of any valid plan of an instance.
func Of(in *instance.Instance) Proof { return apart(in) }

// apart bounds each term by itself.
func apart(in *instance.Instance) (p Proof) {
	fixed := in.ReleasedCost()
	loads, keys := ovenBound{share: make([]Money, len(in.Products))}, Money(0)
	for _, r := range ovenRelaxations {
		if b := r.of(in); b.cost > loads.cost {
			loads, p.By.Oven = b, r.name
		}
	}
	for _, r := range setupRelaxations {
		if b := r.of(in); b > keys {
			keys, p.By.Setup = b, r.name
		}
	}
	sets := late(in, loads.share)
	if sets.all > 0 {
		p.By.Late = "rounds of mandrels"
	}
	p.Terms = Terms{Late: sets.all, Oven: fixed.Oven + loads.cost, Setup: fixed.Setup + keys}
	// What is left out costs its lines dearly and saves the ovens a little: what
	// it may save beyond its credits is slack. Where that is the cheaper case,
	// the bound gives up the difference.
	if gap := sets.all - (sets.some - loads.slack - keys); gap > 0 {
		p.give(gap, fixed)
	}
	return p
}

// give lowers the terms by a sum, those first that it is most likely of.
func (t *Terms) give(sum Money, fixed instance.ReleasedCost) {
	for _, part := range []struct {
		term *Money
		keep Money
	}{{&t.Setup, fixed.Setup}, {&t.Oven, fixed.Oven}, {&t.Late, 0}} {
		n := min(sum, *part.term-part.keep)
		*part.term -= n
		sum -= n
	}
}
