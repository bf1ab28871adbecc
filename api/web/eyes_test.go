package web_test

import (
	"testing"

	"blankwright/api/runs"
	"blankwright/api/web"
	"blankwright/store"
)

// A notice is told by its first sentence, and leads to that which it is about;
// what else it says is there to be opened.
func TestFrame_Sight(t *testing.T) {
	for _, test := range []struct{ kind, subject, text, first, rest, address string }{
		{runs.NoticeLate, "X 1/2", "Line X 1/2 is late. What binds it: oven a. Oven b, too.", "Line X 1/2 is late.", "What binds it: oven a. Oven b, too.", "/orders?q=X+1%2F2"},
		{runs.NoticePromise, "X", "Line X ships on 2026-12-04.", "Line X ships on 2026-12-04.", "", "/orders?q=X"},
		{runs.NoticeMandrels, "BO-2/1", "Mandrels are short.", "Mandrels are short.", "", "/crib/types/BO-2%2F1"},
		{runs.NoticeTool, "M", "Due.", "Due.", "", "/crib/mandrels/M"},
		{runs.NoticeExpires, "R", "It leaves 2.5 m² of it.", "It leaves 2.5 m² of it.", "", "/crib/rolls/R"},
		{runs.NoticeRunsOut, "p", "Out.", "Out.", "", "/catalog/prepreg/p"},
		{runs.NoticeFailed, "", "No.", "No.", "", "/plans"},
		{runs.NoticeOvertaken, "L001", "No.", "No.", "", ""},
	} {
		got := (&web.Frame{}).Sight(store.Notice{Kind: test.kind, Subject: test.subject, Text: test.text})
		if got.First != test.first || got.Rest != test.rest || got.Address != test.address {
			t.Errorf("%s: %q, %q at %q", test.kind, got.First, got.Rest, got.Address)
		}
	}
}

// Of the plans that can be looked at, the last two are set against each other
// unless somebody says otherwise.
func TestPlansPage_Made(t *testing.T) {
	for name, test := range map[string]struct {
		states   []string
		from, to int
	}{
		"two":               {[]string{store.PlanProposal, store.PlanInForce}, 1, 0},
		"one in the making": {[]string{store.PlanRunning, store.PlanProposal, store.PlanFailed, store.PlanInForce}, 3, 1},
		"one alone":         {[]string{store.PlanFailed, store.PlanProposal}, 1, 1},
		"none":              {[]string{store.PlanRunning}, -1, -1},
	} {
		page := web.PlansPage{}
		for _, state := range test.states {
			page.Plans = append(page.Plans, store.Plan{State: state})
		}
		if from, to := page.From(), page.To(); from != test.from || to != test.to {
			t.Errorf("%s: from %d to %d", name, from, to)
		}
	}
}
