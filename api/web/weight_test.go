package web_test

import (
	"testing"

	"blankwright/api/runs"
	"blankwright/api/web"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// heaviest is what a page of a season may weigh, in bytes as they are, not packed.
const heaviest = 300_000

// Every page of a shop of ten thousand pieces stays light enough to come at once.
func TestWeight(t *testing.T) {
	s, p, date := webtest.Season(t)
	pages := gallery(t, s, p)
	pages["full-day"] = fullDay(t, s, p, date)
	lines := ordersPage(s, viewOf(t, s, p))
	for len(lines.Lines) < 400 {
		lines.Lines = append(lines.Lines, lines.Lines...)
	}
	lines.Lines = lines.Lines[:400]
	pages["orders"] = lines
	for name, page := range pages {
		if size := len(rendered(t, name, page)); size > heaviest {
			t.Errorf("page %s weighs %d bytes, want %d at most", name, size, heaviest)
		}
	}
}

// fullDay is the planner's page of a season's fullest day, with more late lines, more
// that moved and more that needs eyes than it shows, and with all lines to propose.
func fullDay(t testing.TB, s *shop.Shop, p *plan.Plan, date shop.Date) renderer {
	t.Helper()
	v := viewOf(t, s, p)
	for range 4 {
		v.Report.Late = append(v.Report.Late, v.Report.Late...)
	}
	page := dayPage(t, v)
	for len(page.Eyes) < 40 {
		page.Eyes = append(page.Eyes, store.Notice{Kind: runs.NoticeLate, Text: "Line " + s.Demand[len(page.Eyes)].ID + " ships 6 days late."})
	}
	proposed := web.IDList{ID: "lines"}
	for len(proposed.IDs) < 500 {
		for i := range s.Demand {
			proposed.IDs = append(proposed.IDs, s.Demand[i].ID)
		}
	}
	page.Changes, page.Lists = make([]web.ChangeForm, 8), []web.IDList{proposed}
	unplanned := *p
	unplanned.Allocations = nil
	moved := runs.Compare(s, &unplanned, s, p)
	page.Moved = &moved
	page.Show(v, date)
	if n := len(page.Loads); n < 13 {
		t.Fatalf("only %d loads on the full day", n)
	}
	return page
}
