package scheduler_test

import (
	"fmt"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// hopes say of each trouble what a plan must look like in spite of it, beyond
// being valid.
var hopes = map[shoptest.Trouble]func(t *testing.T, s *shop.Shop, p *plan.Plan){
	shoptest.OvensShut:    onlyReleased,
	shoptest.OvensLow:     onlyReleased,
	shoptest.MandrelsOut:  onlyReleased,
	shoptest.PeopleOut:    onlyReleased,
	shoptest.MaterialOut:  onlyReleased,
	shoptest.StationsShut: onlyReleased,
	shoptest.AllPast:      allLate,
	shoptest.OneDay:       inOneDay,
	shoptest.GiantOrder:   neverAll,
}

// Whatever a shop's trouble, it gets a valid plan of what can be made.
func TestPlan_Hopeless(t *testing.T) {
	for _, trouble := range shoptest.Troubles() {
		t.Run(string(trouble), func(t *testing.T) {
			t.Parallel()
			expect, known := hopes[trouble]
			if !known {
				t.Fatal("nothing is expected of this trouble")
			}
			for seed := range uint64(6) {
				s := shoptest.Accepted(shoptest.Hopeless(trouble, seed))
				r := planned(t, s, scheduler.Options{Seed: seed + 1, Effort: int(seed) * 50})
				expect(t, s, r.Plan)
			}
		})
	}
}

// onlyReleased expects that nothing is begun: what sets there are come from
// stock, from what comes in, and from released work.
func onlyReleased(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	loads, tasks := 0, 0
	if s.Released != nil {
		loads, tasks = len(s.Released.Loads), len(s.Released.Tasks)
	}
	if len(p.Loads) != loads || len(p.Tasks) != tasks {
		t.Errorf("%d loads and %d tasks, of which %d and %d are released", len(p.Loads), len(p.Tasks), loads, tasks)
	}
	sets := 0
	for _, a := range p.Allocations {
		sets += a.Sets
	}
	if most := setsUnderWay(s); sets > most {
		t.Errorf("%d sets are allocated, of at most %d under way", sets, most)
	}
}

// setsUnderWay bounds from above how many sets a shop has or has under way.
func setsUnderWay(s *shop.Shop) (sets int) {
	pieces := map[string]int{}
	for _, in := range s.Incoming {
		pieces[in.Section] += in.Pieces
	}
	if s.Released != nil {
		for _, task := range s.Released.Tasks {
			if task.Stage == shop.Trim {
				pieces[task.Section] += task.Pieces
			}
		}
	}
	for _, p := range s.Products {
		least := pieces[p.Sections[0].ID]
		for _, section := range p.Sections {
			least = min(least, pieces[section.ID])
		}
		sets += p.Stock + least
	}
	return sets
}

// inOneDay expects that all work is done by midnight.
func inOneDay(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	begun := map[string]bool{}
	if s.Released != nil {
		for _, l := range s.Released.Loads {
			begun[l.ID] = true
		}
	}
	midnight := shop.At(s.Today()+1, 0, s.Zone())
	for _, task := range p.Tasks {
		if !begun[task.Load] && task.End.Minute > midnight {
			t.Errorf("a task ends at %s", task.End)
		}
	}
}

// allLate expects that every set is late or left out.
func allLate(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	sets := 0
	for _, l := range s.Demand {
		sets += l.Quantity
	}
	if r := check.Plan(s, p); r.LateSets+r.UnallocatedSets != sets || p.Cost.Late <= 0 || p.Cost.Hold != 0 {
		t.Errorf("%d of %d sets are late, %d left out, at a cost of %+v", r.LateSets, sets, r.UnallocatedSets, p.Cost)
	}
}

// neverAll expects that sets are left out. Whether any is made depends on the
// shop's material, and on whether its order ships complete.
func neverAll(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	if r := check.Plan(s, p); r.UnallocatedSets == 0 {
		t.Errorf("all of %d sets are made", s.Demand[0].Quantity)
	}
}

// Of a giant order as much is made as the time allows, where nothing else does not.
func TestPlan_GiantOrder(t *testing.T) {
	s := shoptest.Bare()
	s.HorizonDays = 2
	s.Products[0].Sections[0].Minutes.Wrap = 10 // so that wrapping takes all of the time
	shoptest.AddLine(s, "P", 5000, 0, 1)
	r := planned(t, s, scheduler.Options{Effort: 100})
	made := 0
	for _, a := range r.Plan.Allocations {
		made += a.Sets
	}
	// 281, in small loads that leave the wrapping station no pause.
	if most := 2 * 1440 / 10; made > most || made < most*3/4 {
		t.Errorf("%d sets are made, of at most %d", made, most)
	}
}

// A shop without demand, one that is stocked for all of it, and one whose lines
// cost nothing when left out need no plan, and get an empty one.
func TestPlan_NothingToDo(t *testing.T) {
	none := shoptest.Bare()
	stocked := shoptest.Bare()
	stocked.Products[0].Stock = 5
	shoptest.AddLine(stocked, "P", 5, 0, 1)
	free := shoptest.Bare()
	shoptest.AddLine(free, "P", 5, -10, 0)
	for i, s := range []*shop.Shop{none, stocked, free} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			r := planned(t, s, scheduler.Options{Effort: 100})
			if len(r.Plan.Loads) > 0 || r.Plan.Cost.Total != 0 || r.Plan.Bound.Gap != 0 {
				t.Errorf("%d loads, cost %+v, bound %+v", len(r.Plan.Loads), r.Plan.Cost, r.Plan.Bound)
			}
		})
	}
}

// Released work may end past the horizon; no set is allocated there.
func TestPlan_ReleasedPastTheHorizon(t *testing.T) {
	leftOutShort(t)
	seen := 0
	for seed := range uint64(60) {
		s := shoptest.Make(seed, shoptest.Size{Days: 2})
		if s.Released == nil {
			continue
		}
		seen++
		delay(s.Released, 3*1440)
		planned(t, s, scheduler.Options{Effort: 20})
	}
	if seen < 5 {
		t.Errorf("only %d shops have released work", seen)
	}
}
