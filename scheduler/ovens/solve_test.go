package ovens_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/ovens"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// single returns the problem of a shop whose lines ask for products of one section:
// each of their sets is a claim with one lot.
func single(s *shop.Shop) (*instance.Instance, *ovens.Problem) {
	in := instance.New(shoptest.Accepted(s))
	var claims []ovens.Claim
	for l := range in.Lines {
		section := in.Products[in.Lines[l].Product].Sections[0]
		for range in.Lines[l].Quantity {
			claims = append(claims, ovens.Claim{
				Shares: []ovens.Share{{Line: l, Sets: 1}}, Lots: []rack.Run{{Section: section, Pieces: 1}},
			})
		}
	}
	return in, ovens.New(in, claims)
}

// cost returns what the loads of a problem of tardiness cost: a job of the problem
// is a section of its shop, and a unit of its time a day, the second being the first.
func cost(loads []ovens.Load, days func(ovens.Load) int, due func(section int) (day int, weight float64)) (sum float64) {
	for _, l := range loads {
		done := l.In/1440 - 1 + days(l)
		for _, run := range l.Runs {
			day, weight := due(run.Section)
			sum += weight * float64(max(0, done-day))
		}
	}
	return sum
}

// Of up to six jobs on one machine none waits longer than in the best of all
// orders. Where a short search misses that by a little, as it does now and then, a
// longer one finds it.
func TestSolve_SingleMachine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var q benchtest.Sequence
		for range rapid.IntRange(1, 6).Draw(t, "jobs") {
			q.Jobs = append(q.Jobs, benchtest.Job{
				Days: rapid.IntRange(1, 9).Draw(t, "days"), Due: rapid.IntRange(0, 25).Draw(t, "due"),
				Weight: rapid.IntRange(0, 9).Draw(t, "weight"),
			})
		}
		_, p := single(q.Shop())
		got, want := math.Inf(1), float64(least(q.Jobs, 0))
		for steps := 2000; steps <= 50000 && got > want; steps *= 5 {
			got = min(got, cost(solved(p, ovens.Options{Seed: 1, Steps: steps}), func(l ovens.Load) int { return q.Jobs[l.Profile].Days }, func(section int) (int, float64) {
				return q.Jobs[section].Due, float64(q.Jobs[section].Weight)
			}))
		}
		if got != want {
			t.Errorf("%+v: cost %g, want %g", q.Jobs, got, want)
		}
	})
}

// least returns the least weighted tardiness of jobs one after the other from a day
// on, by trying all orders.
func least(jobs []benchtest.Job, from int) (cost int) {
	for i, j := range jobs {
		sum := j.Weight * max(0, from+j.Days-j.Due)
		if rest := slices.Delete(slices.Clone(jobs), i, i+1); len(rest) > 0 {
			sum += least(rest, from+j.Days)
		}
		if i == 0 || sum < cost {
			cost = sum
		}
	}
	return cost
}

// One oven with two pegs, and families of 4 and 6 days: two worked examples of the
// contract's, of which enumeration found the optima. The third has a job that it
// does not pay to wait for.
func TestSolve_Families(t *testing.T) {
	a := func(ready, due int, weight float64) benchtest.FamilyJob {
		return benchtest.FamilyJob{Family: 0, Ready: ready, Due: due, Weight: weight}
	}
	b := func(due int, weight float64) benchtest.FamilyJob {
		return benchtest.FamilyJob{Family: 1, Due: due, Weight: weight}
	}
	cases := []struct {
		name string
		jobs []benchtest.FamilyJob
		want float64
	}{
		{"completion", []benchtest.FamilyJob{a(0, 0, 5), a(0, 0, 3), a(0, 0, 2), a(0, 0, 1), b(0, 9), b(0, 4), b(0, 4)}, 280},
		{"tardiness", []benchtest.FamilyJob{a(0, 4, 3), a(0, 5, 1), a(0, 12, 2), b(6, 2), b(6, 2), b(20, 1)}, 20},
		{"a late arrival", []benchtest.FamilyJob{a(0, 4, 3), a(3, 4, 1)}, 4},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			q := benchtest.Batching{Machines: 1, Most: 2, Days: []int{4, 6}, Jobs: c.jobs}
			_, p := single(q.Shop())
			got := cost(solved(p, ovens.Options{Seed: 1, Steps: 5000}), func(l ovens.Load) int { return q.Days[l.Profile] }, func(section int) (int, float64) {
				return c.jobs[section].Due, c.jobs[section].Weight
			})
			if got != c.want {
				t.Errorf("cost %g, want %g", got, c.want)
			}
		})
	}
}

// Where loads cost and time does not, as few are made as can be: the packings of
// the contract's worked examples, where filling the heaviest in first takes more,
// and two of Falkenauer's triplets, in which every load is full.
func TestSolve_Packings(t *testing.T) {
	many := func(counts ...int) (sizes []int) {
		for ; len(counts) > 0; counts = counts[2:] {
			for range counts[0] {
				sizes = append(sizes, counts[1])
			}
		}
		return sizes
	}
	cases := []benchtest.Packing{
		{Name: "smallest failure of first fit decreasing", Capacity: 7, Sizes: many(2, 3, 4, 2), Bins: 2},
		{Name: "30 items", Capacity: 1000, Sizes: many(6, 510, 6, 270, 6, 260, 12, 230), Bins: 9},
		{Name: "L1 says 3, L2 says 4", Capacity: 10, Sizes: many(4, 6), Bins: 4},
		{Name: "Martello and Toth", Capacity: 100, Sizes: []int{70, 60, 50, 33, 33, 33, 11, 7, 3}, Bins: 4},
		benchtest.Triplets(1), benchtest.Triplets(2),
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			_, p := single(c.Shop())
			if loads := solved(p, ovens.Options{Seed: 1, Steps: 100000}); len(loads) != c.Bins {
				t.Errorf("%d loads, want %d", len(loads), c.Bins)
			}
		})
	}
}

// Pegs and kilograms fill a load together: six wide and light pieces and six narrow
// and heavy ones go into six loads, one of each, where by either alone four would do.
func TestSolve_PacksPegsAndWeight(t *testing.T) {
	s := benchtest.Packing{Name: "pegs and weight", Capacity: 10, Sizes: []int{6, 6, 6, 6, 6, 6, 4, 4, 4, 4, 4, 4}}.Shop()
	s.Racks[0] = shoptest.BareRack("rack", 6)
	for i := range s.Products {
		if section := &s.Products[i].Sections[0]; section.Kg == 4 {
			section.ODMM = 40 // of a pitch of 10
		}
	}
	_, p := single(s)
	if loads := solved(p, ovens.Options{Seed: 1, Steps: 1000}); len(loads) != 6 {
		t.Errorf("%d loads, want 6", len(loads))
	}
}

// Of any shop the loads fit their ovens, carry no piece twice, go in one after the
// other, and are the same for the same seed.
func TestSolve_AnyShop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := shoptest.Make(rapid.Uint64Range(1, 4000).Draw(t, "shop"), shoptest.Size{Impossible: 0.1})
		in, p := single(s)
		seed := rapid.Uint64().Draw(t, "seed")
		loads := solved(p, ovens.Options{Seed: seed, Steps: 500})
		if diff := cmp.Diff(loads, solved(p, ovens.Options{Seed: seed, Steps: 500})); diff != "" {
			t.Fatalf("once and again: %s", diff)
		}
		pieces := make([]int, len(in.Sections))
		free := make([]ovens.Tick, len(in.Ovens))
		for _, l := range loads {
			full, ok := line.NewLoad(in, 1, l.Oven, l.Profile, l.Runs)
			if !ok || l.In < free[l.Oven] {
				t.Fatalf("%+v does not fit, or not after a load until %d", l, free[l.Oven])
			}
			free[l.Oven] = l.In + in.Ovens[l.Oven].Load + full.Cure + in.Ovens[l.Oven].Unload
			for _, run := range l.Runs {
				if pieces[run.Section] += run.Pieces; !in.Sections[run.Section].Profiles[l.Profile] {
					t.Fatalf("%+v is no cure for section %d", l, run.Section)
				}
			}
		}
		for i, product := range in.Products {
			if n := pieces[product.Sections[0]]; n > asked(in, i) {
				t.Errorf("%d pieces for %d sets of %s", n, asked(in, i), product.ID)
			}
		}
	})
}

func asked(in *instance.Instance, product int) (sets int) {
	for _, l := range in.Products[product].Lines {
		sets += in.Lines[l].Quantity
	}
	return sets
}

// BenchmarkSolve searches for the contract's example of parallel batches.
func BenchmarkSolve(b *testing.B) {
	for _, q := range benchtest.Chiang(b)[:1] {
		_, p := single(q.Shop())
		b.Run(fmt.Sprint(len(q.Jobs)), func(b *testing.B) {
			for b.Loop() {
				solved(p, ovens.Options{Seed: 1, Steps: 100000})
			}
		})
	}
}

// A search that is told to stop ends at once, with what it has.
func TestSolve_Stop(t *testing.T) {
	asked := 0
	_, p := single(benchtest.Triplets(3).Shop())
	loads := solved(p, ovens.Options{Seed: 1, Steps: 50000, Stop: func() bool { asked++; return asked == 2 }})
	if asked != 2 || len(loads) < 20 {
		t.Errorf("asked %d times, %d loads", asked, len(loads))
	}
}

// solved returns the loads of a problem.
func solved(p *ovens.Problem, o ovens.Options) []ovens.Load {
	loads, _ := p.Solve(o)
	return loads
}
