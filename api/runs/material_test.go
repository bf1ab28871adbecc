package runs_test

import (
	"math"
	"testing"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// Of a valid plan without released work, all that its cut tasks need is drawn.
func TestRolls_AllIsDrawn(t *testing.T) {
	for seed, made := range madeShops(t) {
		s, p := made.shop, made.Plan
		if s.Released != nil {
			continue
		}
		need, drawn := map[string]float64{}, map[string]float64{}
		for _, task := range p.Tasks {
			if task.Stage == shop.Cut {
				need[task.Prepreg] += float64(task.Pieces) * area(s, task.Section, task.Prepreg)
			}
		}
		for _, r := range runs.Rolls(s, p) {
			drawn[r.Supply.Prepreg] += r.Drawn
			if math.Abs(r.Drawn+r.Left-r.Supply.M2) > 1e-6 || (r.Last == nil) != (r.Drawn == 0) {
				t.Errorf("shop %d: roll %+v of %+v", seed, r, r.Supply)
			}
		}
		for prepreg, got := range drawn {
			if math.Abs(got-need[prepreg]) > 1e-6 {
				t.Errorf("shop %d: %f m² of %s are drawn, %f needed", seed, got, prepreg, need[prepreg])
			}
		}
	}
}

func area(s *shop.Shop, section, prepreg string) (sum float64) {
	yield := map[string]float64{}
	for _, p := range s.Prepregs {
		yield[p.ID] = p.NestYield
	}
	for _, product := range s.Products {
		for _, sec := range product.Sections {
			for _, f := range sec.Flags {
				if sec.ID == section && f.Prepreg == prepreg {
					sum += f.LengthMM * (f.ButtMM + f.TipMM) / 2 / 1e6 / yield[prepreg]
				}
			}
		}
	}
	return sum
}

// The roll that expires first is drawn from first, but not for a cure that comes
// after its end, nor before it is there.
func TestRolls_Order(t *testing.T) {
	s, p := twoRolls()
	got := runs.Rolls(s, p)
	for i, want := range []struct{ drawn, left float64 }{{1, 1}, {7, 3}, {0, 5}} {
		if math.Abs(got[i].Drawn-want.drawn) > 1e-9 || math.Abs(got[i].Left-want.left) > 1e-9 {
			t.Errorf("roll %s: %f drawn, %f left, want %+v", got[i].Supply.ID, got[i].Drawn, got[i].Left, want)
		}
	}
}

// twoRolls is a shop whose pieces take 1 m² of prepreg each, and a plan that cuts one
// on the first day and seven for a cure on the fourth, when the first roll is over.
func twoRolls() (*shop.Shop, *plan.Plan) {
	s := twoLines(false)
	flag := &s.Products[0].Sections[0].Flags[0]
	flag.LengthMM, flag.ButtMM, flag.TipMM = 1000, 1500, 500
	s.Prepregs[0].NestYield = 1
	prepreg := s.Prepregs[0].ID
	flag.Prepreg = prepreg
	s.Supply = []shop.Supply{
		{ID: "soon", Prepreg: prepreg, M2: 2, From: bareAt(-9, 0), Expires: bareAt(3, 0)},
		{ID: "later", Prepreg: prepreg, M2: 10, From: bareAt(-9, 0), Expires: bareAt(30, 0)},
		{ID: "coming", Prepreg: prepreg, M2: 5, From: bareAt(4, 0), Expires: bareAt(20, 0)},
	}
	early, late := task(shop.Cut, 1, 0, 60, 70), task(shop.Cut, 7, 2, 60, 70)
	early.Prepreg, late.Prepreg, late.Load = prepreg, prepreg, "B"
	first, second := load("A", "o", 8, 1), load("B", "o", 8, 7)
	first.CureStart, second.CureStart = bareAt(0, 500), bareAt(3, 500)
	return s, &plan.Plan{Loads: loads(first, second), Tasks: []shop.Task{late, early}}
}
