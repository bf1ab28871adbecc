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

// Of returns a lower bound of the cost of any valid plan of an instance.
func Of(in *instance.Instance) Proof {
	keys := mostCostly(in, setupRelaxations)[0]
	ovens := mostCostly(in, ovenRelaxations)
	best := apart(in, ovens[:tried], keys)
	for i := range ovens {
		if ovens[i].worth == nil {
			continue
		}
		if p := loadsInTime(in, &ovens[i], &keys, best.Total()); p.Total() > best.Total() {
			best = p
		}
	}
	return best
}

// apart bounds each term by itself.
func apart(in *instance.Instance, ovens []relaxed, keys relaxed) (best Proof) {
	for _, loads := range ovens {
		for _, whole := range []bool{true, false} {
			p, gap := together(in, loads, keys, whole)
			if p.Total() > best.Total() {
				best = p
			}
			if gap <= 0 {
				return best // the others cost less
			}
		}
	}
	return best
}

// tried is how many relaxations of the ovens are tried at most.
const tried = 3

// together adds the terms up and returns, too, what the bound has to give up: what
// is left out costs its lines dearly and saves the ovens and set-ups a little, and
// where that is the cheaper case, the bound gives up the difference.
func together(in *instance.Instance, loads, keys relaxed, whole bool) (p Proof, gap Money) {
	fixed := in.ReleasedCost()
	both := newMakeBound(in)
	both.and(&loads.makeBound)
	both.and(&keys.makeBound)
	credit, slack := both.credits(whole)
	sets := late(in, credit)
	p.Terms = Terms{Late: sets.all, Oven: fixed.Oven + loads.cost, Setup: fixed.Setup + keys.cost}
	p.By.Oven, p.By.Setup = loads.name, keys.name
	if sets.all > 0 {
		p.By.Late = "rounds of mandrels"
	}
	gap = sets.all - (sets.some - slack)
	p.give(gap, fixed)
	return p, gap
}

// give lowers the terms by a sum, those first that it is most likely of.
func (t *Terms) give(sum Money, fixed instance.ReleasedCost) {
	sum = max(0, sum)
	for _, part := range []struct {
		term *Money
		keep Money
	}{{&t.Setup, fixed.Setup}, {&t.Oven, fixed.Oven}, {&t.Late, 0}} {
		n := min(sum, *part.term-part.keep)
		*part.term -= n
		sum -= n
	}
}
