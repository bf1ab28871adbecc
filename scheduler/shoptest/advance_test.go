package shoptest_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
)

const toyLoads = 10

// toyCases runs a test on toy plans, each advanced to instants all along it,
// and to those at which pieces come in.
func toyCases(t *testing.T, yield bool, test func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant)) {
	t.Helper()
	for seed := range uint64(10) {
		s := toyShop(seed)
		if !yield {
			noLoss(s)
		}
		prompt := toyPlan(s, toyLoads)
		for name, p := range map[string]*plan.Plan{"prompt": prompt, "straggling": straggling(s, prompt)} {
			what := fmt.Sprintf("seed %d, %s", seed, name)
			mustBeValid(t, what, s, p)
			var instants []shop.Instant
			for step := range int64(9) {
				instants = append(instants, later(s, (lastEnd(p)-s.Now.Minute)*step/7))
			}
			for _, in := range s.Incoming {
				instants = append(instants, in.At)
			}
			for _, at := range instants {
				test(fmt.Sprintf("%s, at %s", what, at), s, p, at)
			}
		}
	}
}

// straggling returns a plan whose first load is trimmed last of all, so that
// later loads are over before it is.
func straggling(s *shop.Shop, p *plan.Plan) *plan.Plan {
	out := *p
	out.Tasks = slices.Clone(p.Tasks)
	delay := lastEnd(p) - p.Now.Minute
	for i, task := range out.Tasks {
		if task.Load == p.Loads[0].ID && task.Stage == shop.Trim {
			out.Tasks[i].Start, out.Tasks[i].End = later(s, task.Start.Minute-s.Now.Minute+delay), later(s, task.End.Minute-s.Now.Minute+delay)
		}
	}
	allocate(s, &out)
	return &out
}

func noLoss(s *shop.Shop) {
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			s.Products[i].Sections[k].Yield = 1
		}
	}
}

func lastEnd(p *plan.Plan) int64 {
	last := p.Now.Minute
	for _, t := range p.Tasks {
		last = max(last, t.End.Minute)
	}
	return last
}

func mustBeValid(t *testing.T, what string, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	for _, breach := range check.Plan(s, p).Breaches {
		t.Fatalf("%s: %s", what, breach)
	}
}

// What is left of a plan is a valid plan of the advanced shop, and so again
// after a second advance, from a shop that has released work.
func TestAdvance_RestOfPlanIsValid(t *testing.T) {
	toyCases(t, true, func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant) {
		before := s.Encode()
		next := Advance(s, p, at)
		if !bytes.Equal(s.Encode(), before) {
			t.Fatalf("%s: the shop itself has changed", what)
		}
		mustRead(t, what, next)
		rest := continued(next, p)
		mustBeValid(t, what, next, rest)

		again := later(next, 700)
		second := Advance(next, rest, again)
		mustRead(t, what+" and on", second)
		mustBeValid(t, what+" and on", second, continued(second, rest))
	})
}

// Where no piece is lost, no set is: what the plan allocates has either left
// demand by then or is allocated by the rest of the plan.
func TestAdvance_KeepsSets(t *testing.T) {
	toyCases(t, false, func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant) {
		next := Advance(s, p, at)
		gone := quantity(s) - quantity(next)
		if got, want := gone+sets(continued(next, p)), sets(p); got != want {
			t.Errorf("%s: %d sets left demand or are allocated, the plan allocates %d", what, got, want)
		}
	})
}

// Where no piece is lost, advancing twice leaves the stock, the pieces to
// come, the demand and the supply that advancing once does.
func TestAdvance_TwiceIsOnce(t *testing.T) {
	toyCases(t, false, func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant) {
		between := Advance(s, p, at)
		end := later(between, 900)
		twice, once := Advance(between, continued(between, p), end), Advance(s, p, end)
		same := cmp.Options{cmpopts.EquateApprox(0, 1e-6), cmpopts.EquateEmpty()}
		for _, pair := range [][2]any{
			{once.Products, twice.Products}, {pieces(once), pieces(twice)}, {once.Demand, twice.Demand}, {once.Supply, twice.Supply},
		} {
			if diff := cmp.Diff(pair[0], pair[1], same); diff != "" {
				t.Fatalf("%s: once and twice differ (-once +twice):\n%s", what, diff)
			}
		}
	})
}

// pieces counts the pieces to come by section and instant.
func pieces(s *shop.Shop) map[string]int {
	out := map[string]int{}
	for _, in := range s.Incoming {
		out[fmt.Sprint(in.Section, in.At)] += in.Pieces
	}
	return out
}

func quantity(s *shop.Shop) int {
	n := 0
	for _, line := range s.Demand {
		n += line.Quantity
	}
	return n
}

func sets(p *plan.Plan) int {
	n := 0
	for _, a := range p.Allocations {
		n += a.Sets
	}
	return n
}

// Supply loses just what the tasks begun before then have cut, and first of
// all the lot that expires first, until it is empty or too old.
func TestAdvance_Supply(t *testing.T) {
	toyCases(t, true, func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant) {
		next := Advance(s, p, at)
		for i := 0; i < len(s.Supply); i += 2 {
			late, soon := s.Supply[i].M2-next.Supply[i].M2, s.Supply[i+1].M2-next.Supply[i+1].M2
			cut := cutBefore(s, p, s.Supply[i].Prepreg, at.Minute)
			if math.Abs(late+soon-cut) > 1e-6 {
				t.Errorf("%s: %g m2 of %s cut, %g drawn", what, cut, s.Supply[i].Prepreg, late+soon)
			}
			if want := min(cut, 0.5); at.Minute < s.Supply[i+1].Expires.Minute-3*1440 && math.Abs(soon-want) > 1e-6 {
				t.Errorf("%s: %g m2 drawn from the lot of %s that expires first, not %g", what, soon, s.Supply[i].Prepreg, want)
			}
		}
	})
}

// cutBefore returns the square metres of a prepreg that tasks begun before an
// instant cut.
func cutBefore(s *shop.Shop, p *plan.Plan, prepreg string, at int64) float64 {
	nest := find(s.Prepregs, func(x shop.Prepreg) bool { return x.ID == prepreg }).NestYield
	sum := 0.0
	for _, task := range p.Tasks {
		if task.Stage != shop.Cut || task.Prepreg != prepreg || task.Start.Minute >= at {
			continue
		}
		for _, flag := range sectionOf(s, task.Section).Flags {
			if flag.Prepreg == prepreg {
				sum += float64(task.Pieces) * flag.LengthMM * (flag.ButtMM + flag.TipMM) / 2e6 / nest
			}
		}
	}
	return sum
}

func sectionOf(s *shop.Shop, id string) shop.Section {
	for _, p := range s.Products {
		for _, section := range p.Sections {
			if section.ID == id {
				return section
			}
		}
	}
	return shop.Section{}
}

// Every load begun is released but those that are over; when all is over,
// nothing is, and stock holds what demand didn't take.
func TestAdvance_Released(t *testing.T) {
	seen := map[string]int{}
	toyCases(t, true, func(what string, s *shop.Shop, p *plan.Plan, at shop.Instant) {
		next := Advance(s, p, at)
		begun := map[string]bool{}
		for _, task := range p.Tasks {
			begun[task.Load] = begun[task.Load] || task.Start.Minute <= at.Minute
		}
		for _, load := range p.Loads {
			switch held := isHeld(next, load.ID); {
			case held && !begun[load.ID]:
				t.Errorf("%s: %s is released and hasn't begun", what, load.ID)
			case !held && begun[load.ID] && load.Out.Minute > at.Minute:
				t.Errorf("%s: %s is under way and not released", what, load.ID)
			case held:
				seen["under way"]++
			case begun[load.ID]:
				seen["over"]++
			}
		}
		if at.Minute > lastEnd(p)+60 && next.Released != nil {
			t.Errorf("%s: all is over and there are %d released loads", what, len(next.Released.Loads))
		}
	})
	if seen["under way"] == 0 || seen["over"] == 0 {
		t.Errorf("the cases are not what they should be: %v", seen)
	}
}

// A load is released for as long as its mandrels are being cleaned, even when
// its last piece is trimmed, and no longer.
func TestAdvance_Cleaning(t *testing.T) {
	cleaning := 0
	for seed := range uint64(20) {
		s := toyShop(seed)
		p := toyPlan(s, 1)
		tool := find(s.MandrelTypes, func(m shop.MandrelType) bool { return m.ID == sectionOf(s, p.Tasks[0].Section).Mandrel })
		pulled := p.Now.Minute
		for _, task := range p.Tasks {
			if task.Stage == shop.Pull {
				pulled = max(pulled, task.End.Minute)
			}
		}
		clean := pulled + int64(tool.TurnaroundMinutes)
		if clean <= lastEnd(p) {
			continue
		}
		cleaning++
		if !isHeld(Advance(s, p, shop.InstantIn(clean-1, s.Zone())), p.Loads[0].ID) {
			t.Errorf("seed %d: mandrels are not clean, and their load is not released", seed)
		}
		if isHeld(Advance(s, p, shop.InstantIn(clean, s.Zone())), p.Loads[0].ID) {
			t.Errorf("seed %d: mandrels are clean, and their load is released", seed)
		}
	}
	if cleaning == 0 {
		t.Error("no case in which cleaning outlasts trimming")
	}
}

// An order that ships complete stays whole in demand until its last set is
// done; another's line shrinks as its sets are.
func TestAdvance_CompleteOrders(t *testing.T) {
	s := toyShop(1)
	s.Products = s.Products[:1]
	s.Products[0].Stock, s.Incoming = 2, nil
	line := shop.Line{Kind: shop.KindOrder, Product: s.Products[0].ID, Quantity: 3, Due: s.Today(), Weight: 1, Order: "A"}
	for _, c := range []struct {
		complete    bool
		sets        int
		stock, left int
	}{
		{complete: false, sets: 2, stock: 0, left: 1},
		{complete: true, sets: 2, stock: 2, left: 3},
		{complete: false, sets: 0, stock: 2, left: 3},
	} {
		line.ID, line.Complete = "1", c.complete
		s.Demand = []shop.Line{line}
		p := &plan.Plan{Allocations: []plan.Allocation{{Line: "1", Sets: c.sets, DoneAt: s.Now}}}
		next := Advance(s, p, later(s, 60))
		if stock, left := next.Products[0].Stock, quantity(next); stock != c.stock || left != c.left {
			t.Errorf("complete %t, %d sets done: %d in stock and %d in demand, not %d and %d", c.complete, c.sets, stock, left, c.stock, c.left)
		}
	}
}
