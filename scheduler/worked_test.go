package scheduler_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// Worked examples from the literature, as shops of which all but one thing is
// bare (see shoptest.Bare). Their numbers were recomputed by enumeration, dynamic
// or integer programming for this project; each names where it comes from. One unit of time is one day: a job
// that is done at C ships on the C-th day, the shop's first being day 1.
//
// Other stages cannot take nothing: a task takes a minute, and so do loading and
// unloading. Each day's work is therefore slack minutes shorter, which all of an
// example's odd minutes together do not use up, and which all of its work together
// does not sum up to a day.
const slack = 15

// days returns the minutes of so many days' work on a machine.
func days(n int) float64 { return float64(n*1440 - slack) }

// ovenDays returns a profile that takes an oven for so many days, with loading
// and unloading.
func ovenDays(id string, n int) shop.Profile { return shoptest.BareProfile(id, days(n)-2) }

// A job is a product of one section that one load cures for some days.
type job struct {
	days, due, weight int
	family            string // jobs of one share loads; "": of its own
}

// floor returns a shop of so many ovens, each with one rack of so many pegs, and
// a line of one piece for each job.
func floor(ovens, pegs int, jobs ...job) *shop.Shop {
	s := shoptest.Bare()
	s.Profiles, s.Products, s.Ovens = nil, nil, nil
	s.Racks[0] = shoptest.BareRack("rack", pegs)
	s.Resins[0].Soak[0].Minutes = 0
	var families []string
	for i, j := range jobs {
		if j.family == "" {
			j.family = fmt.Sprintf("family %d", i+1)
		}
		if !slices.Contains(families, j.family) {
			families = append(families, j.family)
			s.Profiles = append(s.Profiles, ovenDays(j.family, j.days))
		}
		id := fmt.Sprintf("J%d", i+1)
		p := shoptest.BareProduct(id, id)
		p.Sections[0].Profiles = []string{j.family}
		s.Products = append(s.Products, p)
		shoptest.AddLine(s, id, 1, j.due-1, float64(j.weight))
	}
	for n := range ovens {
		s.Ovens = append(s.Ovens, shoptest.BareOven(fmt.Sprintf("oven %d", n+1), families...))
	}
	return s
}

// together lets all lines ship on the last one's day, due before the first, so
// that each set costs the makespan.
func together(s *shop.Shop) *shop.Shop {
	for i := range s.Demand {
		l := &s.Demand[i]
		l.Order, l.Complete, l.Weight, l.Due = "all", true, 1, s.Today()-1
	}
	return s
}

// tester is what a test and a property have in common.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// solve plans a shop and returns what the plan costs. The plan must be valid, cost
// no less than the proven optimum, and not be bounded above it.
func solve(t tester, s *shop.Shop, o scheduler.Options, optimum float64) float64 {
	t.Helper()
	s = shoptest.Accepted(s)
	r, err := scheduler.Plan(context.Background(), s, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	for _, breach := range check.Plan(s, r.Plan).Breaches {
		t.Errorf("%s", breach)
	}
	if r.Plan.Cost.Total < optimum-1e-6 || r.Plan.Bound.Total > optimum+1e-6 {
		t.Errorf("cost %g, bound %g; the optimum is %g", r.Plan.Cost.Total, r.Plan.Bound.Total, optimum)
	}
	return r.Plan.Cost.Total
}

// reach plans a shop and fails where the plan costs more than the optimum.
func reach(t *testing.T, s *shop.Shop, effort int, optimum float64) {
	t.Helper()
	reachBySome(t, s, effort, 1, optimum)
}

// reachBySome plans a shop from one seed after the other and fails where none of
// the plans costs as little as the optimum.
func reachBySome(t *testing.T, s *shop.Shop, effort, seeds int, optimum float64) {
	t.Helper()
	var costs []float64
	for seed := range uint64(seeds) {
		cost := solve(t, s, scheduler.Options{Effort: effort, Seed: seed + 1}, optimum)
		if cost <= optimum+1e-6 {
			return
		}
		costs = append(costs, cost)
	}
	t.Errorf("costs %v; the optimum is %g", costs, optimum)
}

// Total weighted tardiness on one machine: 67 is the optimum of the public toy
// instance toy_wt4.1, 408 that of Pinedo's example for tabu search (from memory).
// Both were checked by enumeration.
func TestWorked_SingleMachineWeightedTardiness(t *testing.T) {
	t.Run("67", func(t *testing.T) {
		reach(t, floor(1, 1, job{12, 16, 4, ""}, job{8, 26, 5, ""}, job{15, 25, 3, ""}, job{9, 27, 5, ""}), 2000, 67)
	})
	t.Run("408", func(t *testing.T) {
		reach(t, floor(1, 1, job{10, 4, 14, ""}, job{10, 2, 12, ""}, job{13, 1, 1, ""}, job{4, 12, 12, ""}), 2000, 408)
	})
}

// Total tardiness on one machine: Pinedo's five jobs (from memory), 370 by trying
// all orders.
func TestWorked_SingleMachineTardiness(t *testing.T) {
	leftOutShort(t)
	jobs := []job{{121, 260, 1, ""}, {79, 266, 1, ""}, {147, 266, 1, ""}, {83, 336, 1, ""}, {130, 337, 1, ""}}
	s := floor(1, 1, jobs...)
	s.HorizonDays = 600
	reach(t, s, 2000, 370)
}

// Of random jobs on one machine no plan costs less than the optimum, found by
// trying all orders, and no bound exceeds it.
func TestWorked_SingleMachineAtRandom(t *testing.T) {
	leftOutShort(t)
	rapid.Check(t, func(t *rapid.T) {
		var jobs []job
		for range rapid.IntRange(1, 4).Draw(t, "jobs") {
			jobs = append(jobs, job{
				days: rapid.IntRange(1, 9).Draw(t, "days"), due: rapid.IntRange(0, 25).Draw(t, "due"),
				weight: rapid.IntRange(0, 5).Draw(t, "weight"),
			})
		}
		solve(t, floor(1, 1, jobs...), scheduler.Options{Effort: 100}, float64(tardiness(jobs, 0)))
	})
}

// tardiness returns the least total weighted tardiness of jobs one after the
// other from a day on.
func tardiness(jobs []job, from int) (least int) {
	least = -1
	for i, j := range jobs {
		rest := slices.Delete(slices.Clone(jobs), i, i+1)
		sum := j.weight * max(0, from+j.days-j.due)
		if len(rest) > 0 {
			sum += tardiness(rest, from+j.days)
		}
		if least < 0 || sum < least {
			least = sum
		}
	}
	return least
}

// compatible returns a shop whose sections can share any load that is long
// enough for all of them: the load takes as long as its longest job.
func compatible(pegs int, length ...int) *shop.Shop {
	var jobs []job
	for _, n := range length {
		jobs = append(jobs, job{days: n, weight: 1})
	}
	s := floor(1, pegs, jobs...)
	s.Resins = nil
	for i, n := range length {
		id := fmt.Sprintf("needs %d", n)
		s.Resins = append(s.Resins, shop.Resin{ID: id, MaxRampCPerMin: 1, MaxC: 120, Soak: []shop.SoakPoint{{C: 120, Minutes: days(n) - 2}}})
		s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: id, Resin: id, MaxOpenMinutes: 1e6, NestYield: 1})
		section := &s.Products[i].Sections[0]
		section.Profiles, section.Flags[0].Prepreg = nil, id
	}
	s.Prepregs = s.Prepregs[1:]
	return s
}

// One oven that takes as long as its longest piece. Three pegs and
// 10 to 3 days: {10,9,8}{7,6,5}{4,3} are all done on day 21 (longest first by
// full batches). Any number of pegs and 2, 3, 5 and 9 days: {2,3,5}{9} are done
// on 5, 5, 5 and 14, 29 together (the dynamic program of Brucker and others 1998).
func TestWorked_BatchingByTheLongest(t *testing.T) {
	leftOutShort(t)
	t.Run("last done on day 21", func(t *testing.T) {
		reach(t, together(compatible(3, 10, 9, 8, 7, 6, 5, 4, 3)), 6000, 8*21)
	})
	t.Run("done on 29 days together", func(t *testing.T) {
		reach(t, compatible(100, 2, 3, 5, 9), 2000, 29)
	})
}

// One oven with two pegs, families A of 4 days and B of 6 that share
// no load: the weighted completion times sum to 280 (B{9,4} A{5,3} A{2,1} B{4},
// Uzsoy's rule), and the weighted tardiness of the second to 20.
func TestWorked_BatchingByFamily(t *testing.T) {
	leftOutShort(t)
	a := func(due, weight int) job { return job{4, due, weight, "A"} }
	b := func(due, weight int) job { return job{6, due, weight, "B"} }
	t.Run("completion 280", func(t *testing.T) {
		reach(t, floor(1, 2, a(0, 5), a(0, 3), a(0, 2), a(0, 1), b(0, 9), b(0, 4), b(0, 4)), 4000, 280)
	})
	t.Run("tardiness 20", func(t *testing.T) {
		reach(t, floor(1, 2, a(4, 3), a(5, 1), a(12, 2), b(6, 2), b(6, 2), b(20, 1)), 4000, 20)
	})
}

// Machines alike, as ovens of one peg: {3,3,2,2,2} days on two are
// done on day 6, where longest first takes 7; {5,5,4,4,3,3,3} on three on day 9,
// where it takes 11 (textbook cases, checked by enumeration).
func TestWorked_ParallelMachines(t *testing.T) {
	makespan := func(ovens int, length ...int) *shop.Shop {
		var jobs []job
		for _, n := range length {
			jobs = append(jobs, job{days: n})
		}
		return together(floor(ovens, 1, jobs...))
	}
	t.Run("two", func(t *testing.T) { reach(t, makespan(2, 3, 3, 2, 2, 2), 4000, 5*6) })
	t.Run("three", func(t *testing.T) { reach(t, makespan(3, 5, 5, 4, 4, 3, 3, 3), 6000, 7*9) })
}

// bins returns a shop in which loads are bins: the oven bears so much, a run
// costs 1, and there is time for all. Sizes are weights, so many of each.
func bins(capacity float64, sizes map[float64]int) *shop.Shop {
	s := shoptest.Bare()
	s.Products, s.Ovens[0].MaxKg, s.Ovens[0].RunCost = nil, capacity, 1
	// A set that is left out is 1000 days late; one that is made is in time.
	s.Policy.UnplannedDays = 1000
	for _, size := range slices.Sorted(maps.Keys(sizes)) {
		id := fmt.Sprintf("%g kg", size)
		p := shoptest.BareProduct(id, id)
		p.Sections[0].Kg = size
		s.Products = append(s.Products, p)
		shoptest.AddLine(s, id, sizes[size], 59, 1)
	}
	return s
}

// Packings as loads. First fit decreasing takes 3 bins for the
// smallest case and 11 for that of 30 items; the last is Martello and Toth's (from
// memory).
func TestWorked_BinPacking(t *testing.T) {
	leftOutShort(t)
	cases := []struct {
		name     string
		capacity float64
		sizes    map[float64]int
		optimum  float64
	}{
		{"smallest failure of first fit decreasing", 7, map[float64]int{3: 2, 2: 4}, 2},
		{"30 items", 1000, map[float64]int{510: 6, 270: 6, 260: 6, 230: 12}, 9},
		{"L1 says 3, L2 says 4", 10, map[float64]int{6: 4}, 4},
		{"Martello and Toth", 100, map[float64]int{70: 1, 60: 1, 50: 1, 33: 3, 11: 1, 7: 1, 3: 1}, 4},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			reach(t, bins(c.capacity, c.sizes), 2000, c.optimum)
		})
	}
}

// A pool of mandrels: six tubes alike, a day each to tack on the one
// position, four days in an oven of four pegs, a day each to pull and clean on one
// position; a mandrel is out from tacking to cleaning. With 1 to 6 mandrels the
// last tube is done on day 36, 22, 18, 16, 14 and 14. The best loads are of
// 1 each, 2 2 2, 3 3, 2 2 2, 1 4 1 and 1 4 1: with four, filling the oven is not
// best. The example is invented; its optima were found by enumeration.
func TestWorked_MandrelPool(t *testing.T) {
	leftOutShort(t)
	for i, makespan := range []int{36, 22, 18, 16, 14, 14} {
		t.Run(fmt.Sprintf("%d mandrels", i+1), func(t *testing.T) {
			s := shoptest.Bare()
			s.Policy.TransferPieces = 1
			s.Racks[0] = shoptest.BareRack("rack", 4)
			s.Profiles[0] = ovenDays("cure", 4)
			s.Mandrels = s.Mandrels[:i+1]
			s.Products[0].Sections[0].Minutes = shop.Minutes{Tack: days(1), Pull: days(1)}
			shoptest.AddLine(s, "P", 6, 0, 1)
			reachBySome(t, together(s), 20000, 3, float64(6*makespan))
		})
	}
}
