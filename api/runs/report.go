package runs

import (
	"encoding/json"
	"fmt"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// A Report is what the planner tells of a plan beside the plan itself, in the form
// in which the books keep it and the API gives it.
type Report struct {
	Terms []Term     `json:"terms"`
	Late  []LateLine `json:"late"` // or not wholly planned, those that cost most first
}

// A Term is one term of a plan's cost, its bound, and the name of what proves that.
type Term struct {
	Term  string  `json:"term"`
	Cost  float64 `json:"cost"`
	Bound float64 `json:"bound"`
	By    string  `json:"by"`
}

// A LateLine is a line that is late or not wholly planned.
type LateLine struct {
	Line            string     `json:"line"`
	Order           string     `json:"order"`
	Product         string     `json:"product"`
	Quantity        int        `json:"quantity"`
	Due             shop.Date  `json:"due"`
	Ship            *shop.Date `json:"ship"` // of its last planned set
	LateSets        int        `json:"late_sets"`
	UnallocatedSets int        `json:"unallocated_sets"`
	DaysLate        int        `json:"days_late"`
	Cost            float64    `json:"cost"`
	Binds           []Bind     `json:"binds"` // the strongest first
}

// A Bind is one thing that holds a line back, and how that is known.
type Bind struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	What   string `json:"what"`
	How    string `json:"how"`
	Proven bool   `json:"proven"`
}

// ReportOf returns what a planner's result tells.
func ReportOf(r *scheduler.Result) Report {
	report := Report{Terms: []Term{}, Late: []LateLine{}}
	for _, t := range r.Terms {
		report.Terms = append(report.Terms, Term(t))
	}
	for _, l := range r.Lines {
		late := LateLine{
			Line: l.Line, Order: l.Order, Product: l.Product, Quantity: l.Quantity, Due: l.Due, Ship: l.Ship,
			LateSets: l.LateSets, UnallocatedSets: l.UnallocatedSets, DaysLate: l.DaysLate, Cost: l.Cost, Binds: []Bind{},
		}
		for _, b := range l.Binds {
			late.Binds = append(late.Binds, Bind(b))
		}
		report.Late = append(report.Late, late)
	}
	return report
}

// encode returns the report as the books keep it.
func (r Report) encode() ([]byte, error) {
	text, err := json.Marshal(r)
	if err != nil {
		return nil, fmt.Errorf("writing a plan's report: %w", err)
	}
	return text, nil
}

// readReport reads what encode wrote; of a plan without a report there is none.
func readReport(text []byte) (Report, error) {
	report := Report{Terms: []Term{}, Late: []LateLine{}}
	if len(text) == 0 {
		return report, nil
	}
	if err := json.Unmarshal(text, &report); err != nil {
		return report, fmt.Errorf("reading a plan's report: %w", err)
	}
	return report, nil
}
