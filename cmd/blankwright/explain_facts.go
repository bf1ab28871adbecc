package main

import (
	"blankwright/scheduler"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/shop"
)

// explanationFacts are an explanation for programs.
type explanationFacts struct {
	Shop     string       `json:"shop"`
	Now      shop.Instant `json:"now"`
	PlanCost float64      `json:"plan_cost"`
	Line     lineFacts    `json:"line"`
	AsItIs   outcomeFacts `json:"as_it_is"` // with nothing more, as long tried
	Gains    []gainFacts  `json:"gains"`    // of all that was tried, the most first
	LeftOut  int          `json:"left_out"`
	Tries    int          `json:"tries"`
}

type outcomeFacts struct {
	Ship            *shop.Date `json:"ship"`
	LateSets        int        `json:"late_sets"`
	UnallocatedSets int        `json:"unallocated_sets"`
	DaysLate        int        `json:"days_late"`
	Cost            float64    `json:"cost"`
	PlanCost        float64    `json:"plan_cost"`
}

// moreFacts say what there is one more of.
type moreFacts struct {
	Kind relax.Kind `json:"kind"`
	ID   string     `json:"id,omitempty"`
	M2   float64    `json:"m2,omitempty"`
	What string     `json:"what"`
}

type gainFacts struct {
	With       moreFacts    `json:"with"`
	DaysSooner int          `json:"days_sooner"`
	SetsMore   int          `json:"sets_more"`
	Saves      float64      `json:"saves"`
	PlanSaves  float64      `json:"plan_saves"`
	Then       outcomeFacts `json:"then"`
}

func explanationFactsOf(s *shop.Shop, e *scheduler.Explanation) explanationFacts {
	return explanationFacts{
		Shop: s.Name, Now: s.Now, PlanCost: e.Plan, Line: factsOf(e.Line), AsItIs: outcomeFacts(e.AsItIs),
		Gains: gainsFacts(e.Gains), LeftOut: e.LeftOut, Tries: e.Tries,
	}
}

func gainsFacts(gains []scheduler.Gain) []gainFacts {
	facts := []gainFacts{}
	for i := range gains {
		g := &gains[i]
		facts = append(facts, gainFacts{
			With: moreFactsOf(g.With, g.What), DaysSooner: g.DaysSooner, SetsMore: g.SetsMore,
			Saves: g.Saves, PlanSaves: g.PlanSaves, Then: outcomeFacts(g.Outcome),
		})
	}
	return facts
}

func moreFactsOf(r relax.Relaxation, what string) moreFacts {
	return moreFacts{r.Kind, r.ID, r.M2, what}
}
