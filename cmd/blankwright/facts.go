package main

import (
	"blankwright/scheduler"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// facts are a plan's summary for programs.
type facts struct {
	Shop       string       `json:"shop"`
	Now        shop.Instant `json:"now"`
	PlanFile   string       `json:"plan_file"`
	Seed       uint64       `json:"seed"`
	Iterations int          `json:"iterations"`
	Stopped    string       `json:"stopped"`
	Terms      []termFacts  `json:"terms"`
	Cost       plan.Cost    `json:"cost"`
	Bound      plan.Bound   `json:"bound"`
	Loads      int          `json:"loads"`
	Pieces     int          `json:"pieces"`
	Tasks      int          `json:"tasks"`
	Lines      lineCounts   `json:"lines"`
	Late       []lineFacts  `json:"late"`  // or not wholly planned, the worst first
	Study      *studyFacts  `json:"study"` // null where there is none
}

type termFacts struct {
	Term  string  `json:"term"`
	Cost  float64 `json:"cost"`
	Bound float64 `json:"bound"`
	Gap   float64 `json:"gap"`
	By    string  `json:"by"` // what proves the bound; empty where nothing is proven
}

// lineCounts counts lines; one that is late in part and in part not planned
// counts as not planned.
type lineCounts struct {
	All        int `json:"all"`
	InTime     int `json:"in_time"`
	Late       int `json:"late"`
	NotPlanned int `json:"not_planned"`
}

type lineFacts struct {
	Line            string         `json:"line"`
	Order           string         `json:"order,omitempty"`
	Product         string         `json:"product"`
	Quantity        int            `json:"quantity"`
	Due             shop.Date      `json:"due"`
	Ship            *shop.Date     `json:"ship"`
	LateSets        int            `json:"late_sets"`
	UnallocatedSets int            `json:"unallocated_sets"`
	DaysLate        int            `json:"days_late"`
	Cost            float64        `json:"cost"`
	Binds           []bindingFacts `json:"binds"`
}

type bindingFacts struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	What   string `json:"what"`
	How    string `json:"how"`
	Proven bool   `json:"proven"`
}

func (p *planned) facts(file string) facts {
	f := facts{
		Shop: p.shop.Name, Now: p.shop.Now, PlanFile: file,
		Seed: p.seed, Iterations: p.Iterations, Stopped: p.stopped,
		Cost: p.Plan.Cost, Bound: p.Plan.Bound,
		Loads: len(p.Plan.Loads), Pieces: pieces(p.Plan), Tasks: len(p.Plan.Tasks),
		Lines: p.lineCounts(), Terms: []termFacts{}, Late: []lineFacts{}, Study: p.studyFacts(),
	}
	for _, t := range p.Terms {
		f.Terms = append(f.Terms, termFacts{t.Term, t.Cost, t.Bound, gap(t.Cost, t.Bound), t.By})
	}
	for _, l := range p.Lines {
		f.Late = append(f.Late, factsOf(l))
	}
	return f
}

func (p *planned) lineCounts() lineCounts {
	c := lineCounts{All: len(p.shop.Demand)}
	for _, l := range p.Lines {
		if l.UnallocatedSets > 0 {
			c.NotPlanned++
		} else {
			c.Late++
		}
	}
	c.InTime = c.All - c.Late - c.NotPlanned
	return c
}

func factsOf(l scheduler.LineReport) lineFacts {
	f := lineFacts{
		Line: l.Line, Order: l.Order, Product: l.Product, Quantity: l.Quantity, Due: l.Due, Ship: l.Ship,
		LateSets: l.LateSets, UnallocatedSets: l.UnallocatedSets, DaysLate: l.DaysLate, Cost: l.Cost,
		Binds: []bindingFacts{},
	}
	for _, b := range l.Binds {
		f.Binds = append(f.Binds, bindingFacts(b))
	}
	return f
}

// pieces counts what hangs in all loads.
func pieces(p *plan.Plan) int {
	sum := 0
	for _, l := range p.Loads {
		for _, rack := range l.Racks {
			for _, level := range rack.Levels {
				for _, hang := range level {
					sum += hang.Pieces
				}
			}
		}
	}
	return sum
}
