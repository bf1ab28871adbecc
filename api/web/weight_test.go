package web_test

import (
	"testing"

	"blankwright/api/web/webtest"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// heaviest is what a page may weigh, in bytes.
const heaviest = 300_000

// The planner's page of a crowded day, and the list of a season's lines, stay
// light enough to come at once.
func TestWeight(t *testing.T) {
	s, p := webtest.TernPoint(t)
	date, _ := sheet.Next(s, p)
	crowded := crowd(s, p, date, 11)
	v := viewOf(t, s, crowded)
	for range 6 { // 96 late lines, and as many things that need eyes
		v.Report.Late = append(v.Report.Late, v.Report.Late...)
	}
	day := dayPage(t, v)
	if n := len(day.Loads); n < 10 {
		t.Fatalf("only %d loads on the crowded day", n)
	}
	if size := len(rendered(t, "", day)); size > heaviest {
		t.Errorf("a day of %d loads weighs %d bytes", len(day.Loads), size)
	}
	lines := ordersPage(s, v)
	for len(lines.Lines) < 400 {
		lines.Lines = append(lines.Lines, lines.Lines...)
	}
	lines.Lines = lines.Lines[:400]
	if size := len(rendered(t, "", lines)); size > heaviest {
		t.Errorf("400 lines weigh %d bytes", size)
	}
}

// crowd moves the first loads of a plan, with all their work, onto one day: no
// plan for any oven, but a day to draw.
func crowd(s *shop.Shop, p *plan.Plan, date shop.Date, loads int) *plan.Plan {
	out := *p
	out.Loads, out.Tasks = nil, nil
	shift := map[string]int64{}
	for _, l := range p.Loads[:loads] {
		by := int64(date-shop.DateAt(l.In.Minute, s.Zone())) * 24 * 60
		shift[l.ID] = by
		for _, at := range []*shop.Instant{&l.In, &l.CureStart, &l.CureEnd, &l.Out} {
			at.Minute += by
		}
		out.Loads = append(out.Loads, l)
	}
	for _, task := range p.Tasks {
		by, ok := shift[task.Load]
		if !ok {
			continue
		}
		task.Start.Minute, task.End.Minute = task.Start.Minute+by, task.End.Minute+by
		out.Tasks = append(out.Tasks, task)
	}
	return &out
}
