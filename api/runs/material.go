package runs

import (
	"cmp"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A Roll is what becomes of one row of the supply by a plan.
type Roll struct {
	Supply *shop.Supply
	Drawn  float64 // m²
	Left   float64 // m²
	// Last is when the plan draws from it for the last time; nil where it does not.
	Last *shop.Instant
}

// Rolls tells what a plan draws from each row of a shop's supply (rule R12), in
// the order of the shop file.
func Rolls(s *shop.Shop, p *plan.Plan) []Roll {
	list := make([]Roll, len(s.Supply))
	for i := range s.Supply {
		list[i] = Roll{Supply: &s.Supply[i], Left: s.Supply[i].M2}
	}
	rows, areas, cures := inTurn(list), areasOf(s), map[string]int64{}
	for i := range p.Loads {
		cures[p.Loads[i].ID] = p.Loads[i].CureStart.Minute
	}
	for _, t := range cuts(s, p) {
		need := float64(t.Pieces) * areas[t.Section][t.Prepreg]
		for _, r := range rows[t.Prepreg] {
			if need > 0 && r.Left > 0 && r.Supply.From.Minute <= t.Start.Minute && cures[t.Load] <= r.Supply.Expires.Minute {
				part := min(need, r.Left)
				r.Left, r.Drawn, r.Last, need = r.Left-part, r.Drawn+part, &t.Start, need-part
			}
		}
	}
	return list
}

// inTurn returns each prepreg's rolls in the order in which they are drawn from.
func inTurn(list []Roll) map[string][]*Roll {
	rows := map[string][]*Roll{}
	for i := range list {
		rows[list[i].Supply.Prepreg] = append(rows[list[i].Supply.Prepreg], &list[i])
	}
	for _, of := range rows {
		slices.SortStableFunc(of, func(a, b *Roll) int { return shop.InDrawOrder(a.Supply, b.Supply) })
	}
	return rows
}

// areasOf returns the square metres that a piece of each section uses of each
// prepreg.
func areasOf(s *shop.Shop) map[string]map[string]float64 {
	areas := map[string]map[string]float64{}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			areas[section.ID] = map[string]float64{}
			for k := range s.Prepregs {
				areas[section.ID][s.Prepregs[k].ID] = section.M2(&s.Prepregs[k])
			}
		}
	}
	return areas
}

// cuts returns the cut tasks that draw from the supply, by start. What released
// tasks began before now is drawn already; no other task begins before now.
func cuts(s *shop.Shop, p *plan.Plan) []*shop.Task {
	var list []*shop.Task
	for i := range p.Tasks {
		if t := &p.Tasks[i]; t.Stage == shop.Cut && t.Start.Minute >= s.Now.Minute {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *shop.Task) int { return cmp.Compare(a.Start.Minute, b.Start.Minute) })
	return list
}
