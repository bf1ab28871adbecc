package plan

import (
	"fmt"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// Read reads a plan file for a shop. Its error is strict.Problems: all that is
// wrong with the file's form, with the ids that it names, or with the shop and
// now that it states. Whether the plan keeps the rules is not judged here.
//
// What is read can be written by Encode and reads back the same: instants keep
// their offsets, and empty lists are nil.
func Read(data []byte, s *shop.Shop) (*Plan, error) {
	p := new(Plan)
	doc := strict.Read(data, p)
	checkHead(doc, p, s)
	shop.CheckWork(doc, s, "", p.Loads, p.Tasks)
	checkLines(doc, p, s)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return p, nil
}

func checkHead(doc *strict.Document, p *Plan, s *shop.Shop) {
	if p.Format != Format {
		doc.Add("format", "is %q, not %q", p.Format, Format)
	}
	if p.Shop != s.Name {
		doc.Add("shop", "is %q, but this shop is %q", p.Shop, s.Name)
	}
	if p.Now.Minute != s.Now.Minute {
		doc.Add("now", "is %s, but this shop's is %s", p.Now, s.Now)
	}
}

func checkLines(doc *strict.Document, p *Plan, s *shop.Shop) {
	lines := doc.Ids("line")
	for _, line := range s.Demand {
		lines.Add("", line.ID)
	}
	for i, a := range p.Allocations {
		lines.Refer(fmt.Sprintf("allocations[%d].line", i), a.Line)
	}
}
