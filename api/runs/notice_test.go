package runs_test

import (
	"slices"
	"strings"
	"testing"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// Each thing that needs eyes is told once, with what is behind it.
func TestNotices(t *testing.T) {
	day := bareDay(7)
	tests := []struct {
		name          string
		sight         func(v *runs.Sight)
		kind, subject string
		text          string // its words, parted by " … "
	}{
		{"a late line", func(v *runs.Sight) {
			v.Report.Late = []runs.LateLine{{
				Line: "a", Product: "P", Quantity: 4, Due: bareDay(5), Ship: &day, LateSets: 1, UnallocatedSets: 2,
				Binds: []runs.Bind{{Kind: "oven", ID: "o", What: "it is taken."}},
			}}
		}, runs.NoticeLate, "a", "Line a, 4 × P, due 2027-03-06: 1 set late, 2 sets not planned, ships by 2027-03-08. What binds it: oven o: it is taken."},
		{"a promise that moved", func(v *runs.Sight) {
			v.Promised = map[string]shop.Date{"a": bareDay(1), "b": bareDay(9)}
			v.Before = runs.Shippings(v.Shop, &plan.Plan{Allocations: []plan.Allocation{given("a", 4, 1)}})
		}, runs.NoticePromise, "a", "is promised for 2027-03-02; by this plan it ships on 2027-03-03, by the one before it ships on 2027-03-02."},
		{"a promise that is left out", func(v *runs.Sight) {
			v.Promised = map[string]shop.Date{"a": bareDay(9)}
			v.Plan.Allocations = []plan.Allocation{given("a", 1, 2)}
		}, runs.NoticePromise, "a", "by this plan 3 sets of it are not planned."},
		{"a promise that is held back", func(v *runs.Sight) {
			until := bareDay(8)
			v.Held = []runs.HeldLine{{Line: "c", Product: "P", Sets: 2, Promised: bareDay(9), Why: "a deposit", Until: &until}}
		}, runs.NoticePromise, "c", "Line c, 2 × P, is promised for 2027-03-10 and held back until 2027-03-09: a deposit. No plan works on it."},
		{"mandrels that hold back", func(v *runs.Sight) {
			bind := []runs.Bind{{Kind: "mandrel", ID: v.Shop.MandrelTypes[0].ID}}
			v.Report.Late = []runs.LateLine{{Line: "a", Binds: bind}, {Line: "b", Binds: bind}}
		}, runs.NoticeMandrels, "", "are short: they hold back a, b."},
		{"mandrels that released work lacks", func(v *runs.Sight) {
			v.Plan.Tasks = append(v.Plan.Tasks, task(shop.Tack, 101, 1, 0, 60))
		}, runs.NoticeMandrels, "", "101 are needed on 2027-03-02 and 100 are ready"},
		{"mandrels that lack though one was scrapped on its load", func(v *runs.Sight) {
			v.Plan.Tasks = append(v.Plan.Tasks, task(shop.Tack, 102, 1, 0, 60))
			v.OffLoads = []crib.Need{{Type: v.Shop.MandrelTypes[0].ID, Pieces: 1}}
		}, runs.NoticeMandrels, "", "101 are needed on 2027-03-02 and 100 are ready"},
		{"mandrels that lack after the load of one that was scrapped", func(v *runs.Sight) {
			v.Plan.Tasks = append(v.Plan.Tasks, task(shop.Tack, 101, 1, 0, 60))
			v.OffLoads = []crib.Need{{Type: v.Shop.MandrelTypes[0].ID, Pieces: 1, Back: v.Shop.Now.Time()}}
		}, runs.NoticeMandrels, "", "101 are needed on 2027-03-02 and 100 are ready"},
		{"a roll that expires", func(v *runs.Sight) {
			v.Shop, v.Plan = twoRolls()
		}, runs.NoticeExpires, "soon", "expires on 2027-03-04 00:00; the plan leaves 1.0 m² of it."},
		{"a prepreg that runs out", func(v *runs.Sight) {
			v.Shop, v.Plan = twoRolls()
			v.Shop.Supply = v.Shop.Supply[:2]
		}, runs.NoticeRunsOut, "", "runs out: 4.0 m² are left on 2027-03-03, when the plan has cut 8.0 m² in 3 days."},
		{"a prepreg that holds back", func(v *runs.Sight) {
			v.Report.Late = []runs.LateLine{{Line: "b", Binds: []runs.Bind{{Kind: "material", ID: v.Shop.Prepregs[0].ID}}}}
		}, runs.NoticeRunsOut, "", "it holds back b."},
		{"a tool that is due", func(v *runs.Sight) {
			v.Due = []runs.DueTool{{Mandrel: "M-7", Type: "M", Why: "due for inspection (9 of 9 cycles)"}}
		}, runs.NoticeTool, "M-7", "Mandrel M-7 of M is due for inspection (9 of 9 cycles)."},
		{"released work that cannot happen", func(v *runs.Sight) {
			v.Troubles = []runs.Trouble{{What: "load 7", Text: "Its oven is down."}}
		}, runs.NoticeOvertaken, "load 7", "Its oven is down."},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := twoLines(false)
			v := runs.Sight{Shop: s, Plan: &plan.Plan{Allocations: []plan.Allocation{given("a", 4, 2), given("b", 2, 2)}}}
			if got := runs.Notices(v); len(got) > 0 {
				t.Fatalf("a plan in which all is well raises %v", got)
			}
			test.sight(&v)
			got := runs.Notices(v)
			at := slices.IndexFunc(got, func(n runs.Notice) bool {
				return n.Kind == test.kind && (test.subject == "" || n.Subject == test.subject)
			})
			if at < 0 || !strings.Contains(got[at].Text, test.text) {
				t.Errorf("raised %v, want %s %s: %s", got, test.kind, test.subject, test.text)
			}
		})
	}
}

// The notices of any plan name things that are there, each once for its kind.
func TestNotices_AnyPlan(t *testing.T) {
	for seed, made := range madeShops(t) {
		s, r := made.shop, made.Result
		seen := map[[2]string]bool{}
		for _, n := range runs.Notices(runs.Sight{Shop: s, Plan: r.Plan, Report: runs.ReportOf(r)}) {
			key := [2]string{n.Kind, n.Subject}
			if seen[key] || n.Subject == "" || !strings.Contains(n.Text, n.Subject) || strings.Contains(n.Text, "..") {
				t.Errorf("shop %d: %+v (again: %t)", seed, n, seen[key])
			}
			seen[key] = true
		}
	}
}
