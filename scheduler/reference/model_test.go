package reference_test

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// A model is the program that asks for the cheapest plan of a small shop.
//
// Pieces of one section are alike, so that it counts them: how many have begun a
// stage by some slot, and how many are in loads that have gone in by then. The first
// to come can always be the first to go, so that counts need not tell loads apart.
type model struct {
	*grid
	program
	without string // a rule that is left out, to see whether it matters

	sections []*section
	batches  []*batch
	loads    []*load
	stays    []*stay
	placings []*placing
	lines    []*line
	released []*fixedTask
	holding  []*fixedTask // those of them that hold what they take
}

// A section is one that some product is made of.
type section struct {
	*shop.Section
	number, product int
	hang, kg        float64 // with its mandrel
	most            int     // more pieces than this are never of use
	profiles        []bool  // by profile: it qualifies
	prepregs        []string
}

// beyond is how many slots a model has after a horizon that is no limit.
const beyond = 48

// newModel returns the model of a shop, without one of the rules, if any.
func newModel(s *shop.Shop, without string) *model {
	m := &model{grid: newGrid(s, 0), without: without}
	if without == "R14" {
		m.grid = newGrid(s, beyond)
	}
	m.addSections()
	m.addReleased()
	m.addLoads()
	m.addBatches()
	m.addStations()
	m.addOvens()
	m.addFlow()
	m.addMandrels()
	m.addRacks()
	m.addCrews()
	m.addMaterial()
	m.addDemand()
	m.addCost()
	return m
}

func (m *model) addSections() {
	for p := range m.s.Products {
		product := &m.s.Products[p]
		sets := -product.Stock
		for _, line := range m.s.Demand {
			if line.Product == product.ID {
				sets += line.Quantity
			}
		}
		for i := range product.Sections {
			m.addSection(&product.Sections[i], p, max(0, sets))
		}
	}
}

func (m *model) addSection(s *shop.Section, product, sets int) {
	c := &section{Section: s, number: len(m.sections), product: product, most: int(math.Ceil(float64(sets)/s.Yield - 1e-6))}
	for _, kind := range m.s.MandrelTypes {
		if kind.ID == s.Mandrel {
			c.hang, c.kg = kind.HangMM, s.Kg+kind.Kg
		}
	}
	for _, f := range s.Flags {
		if !slices.Contains(c.prepregs, f.Prepreg) {
			c.prepregs = append(c.prepregs, f.Prepreg)
		}
	}
	for p := range m.s.Profiles {
		c.profiles = append(c.profiles, qualifies(m.s, &m.s.Profiles[p], s))
	}
	m.sections = append(m.sections, c)
}
