package benchtest_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shoptest"
)

// The cheapest schedule of each instance is a valid plan for its shop: its runs are
// the loads, and it costs the stated optimum.
func TestMini_Witness(t *testing.T) {
	for _, m := range benchtest.Minis(t) {
		s := shoptest.Accepted(m.Shop())
		p := m.Witness(s)
		report := check.Plan(s, p)
		if rules := without(report.Rules(), check.RuleCost); len(rules) > 0 { // the witness states no cost
			t.Errorf("%s: breaks %v", m.Name, report.Breaches)
		}
		if report.Cost.Total != float64(m.Least) || len(p.Loads) != m.Runs {
			t.Errorf("%s costs %g in %d loads, not %d in %d", m.Name, report.Cost.Total, len(p.Loads), m.Least, m.Runs)
		}
	}
}

// Each limit of an instance is the limit of its shop: a schedule that just keeps
// it is valid, and one that breaks it by a unit breaks the rule that stands for it.
func TestMini_Limits(t *testing.T) {
	first := benchtest.MiniJob{Release: 1, Tack: 2, Pegs: 1, TackStart: 1, OvenStart: 3} // in its oven up to 5
	other := benchtest.MiniJob{Mandrel: 1, Tack: 2, Pegs: 1, TackStart: 3, OvenStart: 5}
	one := func(change func(job *benchtest.MiniJob)) []benchtest.MiniJob {
		job := first
		change(&job)
		return []benchtest.MiniJob{job}
	}
	two := func(change func(second *benchtest.MiniJob)) []benchtest.MiniJob {
		second := other
		change(&second)
		return []benchtest.MiniJob{first, second}
	}
	for _, c := range []struct {
		what  string
		jobs  []benchtest.MiniJob
		rules []string
	}{
		{"begun when released", one(func(*benchtest.MiniJob) {}), nil},
		{"begun before", one(func(j *benchtest.MiniJob) { j.Release = 2 }), []string{"R12"}},
		{"in the oven before it is tacked", one(func(j *benchtest.MiniJob) { j.OvenStart = 2 }), []string{"R8"}},
		{"open as long as it may", one(func(j *benchtest.MiniJob) { j.OvenStart = 5 }), nil},
		{"open for longer", one(func(j *benchtest.MiniJob) { j.OvenStart = 6 }), []string{"R10"}},
		{"out at the horizon", one(func(j *benchtest.MiniJob) { j.TackStart, j.OvenStart = 15, 18 }), nil},
		{"out after it", one(func(j *benchtest.MiniJob) { j.TackStart, j.OvenStart = 16, 19 }), []string{"R13", "R14"}}, // nor is a set given beyond it
		{"one tacked after the other", two(func(*benchtest.MiniJob) {}), nil},
		{"two tacked at once", two(func(j *benchtest.MiniJob) { j.TackStart, j.OvenStart = 2, 5 }), []string{"R6"}},
		{"one run after the other", two(func(j *benchtest.MiniJob) { j.Family = 1 }), nil},
		{"two runs at once", two(func(j *benchtest.MiniJob) { j.Family, j.TackStart, j.Tack, j.OvenStart = 1, 3, 1, 4 }), []string{"R4"}},
		{"a full oven", two(func(j *benchtest.MiniJob) { j.TackStart, j.Tack, j.OvenStart, j.Pegs = 0, 1, 3, 2 }), nil},
		{"more than full", two(func(j *benchtest.MiniJob) { j.TackStart, j.Tack, j.OvenStart, j.Pegs = 0, 1, 3, 3 }), []string{"R3"}},
		{"a mandrel taken when it is clean", two(func(j *benchtest.MiniJob) { j.Mandrel, j.TackStart, j.OvenStart = 0, 6, 8 }), nil},
		{"taken before", two(func(j *benchtest.MiniJob) { j.Mandrel, j.TackStart, j.OvenStart = 0, 5, 7 }), []string{"R9"}},
	} {
		m := benchtest.Mini{
			Name: c.what, Tackers: 1, Ovens: 1, Pegs: 3, Horizon: 20, Open: 2, Clean: 1,
			Cure: []int{2, 3}, Mandrels: []int{1, 1}, Orders: []benchtest.MiniOrder{{Due: 5, Weight: 1}}, Jobs: c.jobs,
		}
		s := shoptest.Accepted(m.Shop())
		report := check.Plan(s, m.Witness(s))
		if rules := without(report.Rules(), check.RuleCost); !slices.Equal(rules, c.rules) {
			t.Errorf("%s: breaks %v, want %v: %v", c.what, rules, c.rules, report.Breaches)
		}
	}
}

func without(rules []string, rule string) []string {
	return slices.DeleteFunc(rules, func(r string) bool { return r == rule })
}
