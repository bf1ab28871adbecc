package reference_test

import (
	"slices"
	"testing"

	"github.com/crillab/gophersat/solver"
	"pgregory.net/rapid"
)

// solve returns a verdict that keeps all conditions at the least cost; ok is false
// where none does. It asks the solver for any verdict, then for a cheaper one, until
// there is none. (The solver's own way to do that now and then returns a verdict that
// breaks a condition.)
func (p *program) solve() (best verdict, ok bool) {
	limit := fixed(0)
	for {
		v, found := p.below(limit)
		if !found {
			return best, ok
		}
		best, ok = v, true
		limit = p.cost.plus(-v.of(p.cost)+1, fixed(1))
	}
}

// below returns a verdict that keeps all conditions and one more, which is that a
// sum be at most 0.
func (p *program) below(limit sum) (v verdict, ok bool) {
	q := *p
	q.rows = slices.Clone(p.rows)
	q.atMost(limit, fixed(0))
	rows := []solver.PBConstr{solver.GtEq([]int{q.choices}, []int{1}, 0)} // says how many choices there are
	for _, row := range q.rows {
		var literals, weights []int
		for _, t := range row.terms {
			literals, weights = append(literals, t.choice), append(weights, t.weight)
		}
		rows = append(rows, solver.GtEq(literals, weights, -row.constant))
	}
	problem := solver.ParsePBConstrs(rows)
	q.prefer(problem)
	s := solver.New(problem)
	if s.Solve() != solver.Sat {
		return nil, false
	}
	return append(verdict{false}, s.Model()...), true
}

// prefer lets the solver try first what costs nothing.
func (p *program) prefer(problem *solver.Problem) {
	var literals []solver.Lit
	var weights []int
	for _, t := range p.cost.merged().terms {
		literal := solver.IntToLit(int32(t.choice))
		if t.weight < 0 { // a gain of yes is a price of no
			literal, t.weight = literal.Negation(), -t.weight
		}
		literals, weights = append(literals, literal), append(weights, t.weight)
	}
	problem.SetCostFunc(literals, weights)
}

// The solver finds the optimum of small programs that trying all verdicts finds.
func TestProgram_Solve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &program{}
		var choices []sum
		for range rapid.IntRange(1, 7).Draw(t, "choices") {
			choices = append(choices, p.choice())
		}
		draw := func(what string) (s sum) {
			s.constant = rapid.IntRange(-3, 6).Draw(t, what)
			for _, c := range choices {
				s.add(rapid.IntRange(-4, 4).Draw(t, "weight"), c)
			}
			return s
		}
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			p.atMost(fixed(0), draw("row"))
		}
		p.cost = draw("cost")
		best, found := p.tryAll()
		v, ok := p.solve()
		if ok != found || ok && v.of(p.cost) != best {
			t.Fatalf("solved: %v at %v; trying all: %v at %d", ok, v, found, best)
		}
		for _, row := range p.rows {
			if ok && v.of(row) < 0 {
				t.Fatalf("the verdict %v breaks a condition", v)
			}
		}
	})
}

// tryAll returns the least cost of any verdict that keeps all conditions.
func (p *program) tryAll() (best int, found bool) {
	for bits := range 1 << p.choices {
		v := make(verdict, p.choices+1)
		for c := range p.choices {
			v[c+1] = bits>>c&1 == 1
		}
		kept := true
		for _, row := range p.rows {
			kept = kept && v.of(row) >= 0
		}
		if cost := v.of(p.cost); kept && (!found || cost < best) {
			best, found = cost, true
		}
	}
	return best, found
}
