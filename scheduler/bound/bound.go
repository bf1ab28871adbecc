// Package bound proves what no valid plan can cost less than. Each term of the
// cost has relaxations of its own, of which the one that proves most counts;
// terms add up, in each of two cases: that everything wanted is made, or that
// something is left out. The lower of the two is the bound.
//
// It looks at the instance only, never at an answer, and counts in whole money.
// It imports alone, instance, price, rack and shop.
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

// tried is how many relaxations of the ovens are tried at most.
const tried = 3

// apart bounds what the ovens and set-ups cost each by itself, and late and early
// sets together.
func apart(in *instance.Instance, ovens []relaxed, keys relaxed) (best Proof) {
	sets := pricesOfLimits(in)
	for _, loads := range ovens {
		for _, whole := range []bool{true, false} {
			c := newCases(in, loads.makeBound, keys.makeBound, whole, sets)
			if p := c.proof(); p.Total() > best.Total() {
				best = p
				best.By.Oven, best.By.Setup = loads.name, keys.name
				best.name("prices of limits")
			}
		}
	}
	return best
}

// name names what proves late and early sets.
func (p *Proof) name(relaxation string) {
	if p.Late > 0 {
		p.By.Late = relaxation
	}
	if p.Hold > 0 {
		p.By.Hold = relaxation
	}
}

// cases are what is known of the two cases.
type cases struct {
	fixed       instance.ReleasedCost
	sets        setsBound
	oven, setup Money // of all that is wanted
	slack       Money // what of these is not credited to sets
	bare        Money // what sets cost at least when something is left out, without credits
}

func newCases(in *instance.Instance, loads, keys makeBound, whole bool, of func([]Money) setsBound) cases {
	both := newMakeBound(in)
	both.and(&loads)
	both.and(&keys)
	credit, slack := both.credits(whole)
	return cases{
		fixed: in.ReleasedCost(), sets: of(credit), oven: loads.cost, setup: keys.cost, slack: slack,
		bare: of(make([]Money, len(credit))).some,
	}
}

// proof adds the terms up. What is left out costs its lines dearly and saves the
// ovens and set-ups a little; where that is the cheaper case, the bound gives up
// the difference.
func (c *cases) proof() (p Proof) {
	p.Terms = Terms{Late: c.sets.late, Hold: c.sets.hold, Oven: c.fixed.Oven + c.oven, Setup: c.fixed.Setup + c.setup}
	made := c.sets.late + c.sets.hold + c.oven + c.setup
	left := max(c.bare, c.sets.some+c.oven+c.setup-c.slack)
	p.give(made-left, c.fixed)
	return p
}

// give lowers the terms by a sum, those first that it is most likely of.
func (t *Terms) give(sum Money, fixed instance.ReleasedCost) {
	sum = max(0, sum)
	for _, part := range []struct {
		term *Money
		keep Money
	}{{&t.Setup, fixed.Setup}, {&t.Oven, fixed.Oven}, {&t.Hold, 0}, {&t.Late, 0}} {
		n := min(sum, *part.term-part.keep)
		*part.term -= n
		sum -= n
	}
}
