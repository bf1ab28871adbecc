package main

import (
	"bytes"
	"encoding/json"

	"blankwright/scheduler/shop"
)

// The rows of a trace file, told apart by their field row; DEVELOPERS.md says
// what each field means.
type (
	traceSearch struct {
		Row        string       `json:"row"`
		Shop       string       `json:"shop"`
		Now        shop.Instant `json:"now"`
		Seed       uint64       `json:"seed"`
		Iterations int          `json:"iterations"`
		Stopped    string       `json:"stopped"`
		Cost       float64      `json:"cost"`
	}
	traceMove struct {
		Row      string  `json:"row"`
		Move     string  `json:"move"`
		Drawn    int     `json:"drawn"`
		Proposed int     `json:"proposed"`
		Placed   int     `json:"placed"`
		Kept     int     `json:"kept"`
		Bettered int     `json:"bettered"`
		Gain     float64 `json:"gain"`
	}
	tracePoint struct {
		Row       string  `json:"row"`
		Heat      int     `json:"heat"`
		Island    int     `json:"island"`
		Iteration int     `json:"iteration"`
		Best      float64 `json:"best"`
		Current   float64 `json:"current"`
	}
)

// traceRows returns what a trace file says of a search: JSON, a row to a line.
func (p *planned) traceRows() ([]byte, error) {
	rows := []any{traceSearch{"search", p.shop.Name, p.shop.Now, p.seed, p.Iterations, p.stopped, p.Plan.Cost.Total}}
	for _, m := range p.Trace.Moves {
		rows = append(rows, traceMove{"move", m.Move, m.Drawn, m.Proposed, m.Placed, m.Kept, m.Bettered, m.Gain})
	}
	for _, t := range p.Trace.Points {
		rows = append(rows, tracePoint{"point", t.Heat, t.Island, t.Iteration, t.Best, t.Current})
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	for _, row := range rows {
		if err := encoder.Encode(row); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}
