package check_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"blankwright/scheduler/check"
	"blankwright/scheduler/thorough"
)

// Two checkers that share nothing but the contract judged every mutant: this
// package's, and the one beside the project that is written in Python. What
// the second one found is recorded, so that a test needs neither it nor
// Python; -update asks it anew.

// How many mutants each mutator makes of tern and of any other base, at most.
// Tern's files are small, so that many of its mutants are quickly judged.
const (
	seedsOfTern  = 16
	seedsOfOther = 2
)

// A difference is why the two checkers report some mutators' mutants under
// different rules, while they agree that these are invalid.
type difference struct {
	mutators []string
	rules    []string // only these differ
	why      string
}

// differences are all there are, but for this: a wrong cure end is R2's here
// and R4's there, since R4 states the sum and R2 counts the cure minutes.
var differences = []difference{
	{
		[]string{"R3 a level too many", "R3 a rack's other set-up"},
		[]string{"R1", "R2", "R4", "R6", "R7", "R8", "cost"},
		"what hangs on a level that the set-up lacks is part of the load here, and left out there",
	},
	{
		[]string{"R3 an entry without pieces"},
		[]string{"R1"},
		"an entry of no pieces makes its section one of the load's there, and not here",
	},
	{
		[]string{"R6 no such position"},
		[]string{"R7", "R8", "R11", "cost"},
		"a task on no position counts as one of its run's here, and is left out there",
	},
	{
		[]string{"R8 a task of another section", "R8 a task of another load", "file a field null"},
		[]string{"R6", "R7", "R11", "cost"},
		"a task of what doesn't hang in its load takes its position here, and is left out there",
	},
	{
		[]string{"file a load id twice"},
		[]string{"R4", "R5", "R8", "cost"},
		"the reader stops at a load id that comes twice here, the checker goes on there",
	},
	{
		[]string{"file a prepreg unknown"},
		[]string{"file", "R6", "R7", "R8", "cost"},
		"the reader stops at an unknown prepreg here, there it is one that the section has no flag of",
	},
}

// Both checkers call the same mutants valid, and report the others under the
// same rules but for the differences that are explained.
func TestMutations(t *testing.T) {
	all := allMutants(t)
	if *update {
		record(t, all)
	}
	verdicts := readVerdicts(t)
	if len(all) < 1000 || len(verdicts) != len(all) {
		t.Fatalf("%d mutants, %d verdicts: want at least 1000 of each, and as many; run with -update", len(all), len(verdicts))
	}
	for i, m := range all {
		v := verdicts[i]
		if v.Base != m.base || v.Mutator != m.mutator || v.Seed != m.seed || v.Digest != m.digest() {
			t.Fatalf("verdict %d is of %s, %s, seed %d: not of %s, %s, seed %d as it is now; run with -update", i, v.Base, v.Mutator, v.Seed, m.base, m.mutator, m.seed)
		}
	}
	t.Run("agree", func(t *testing.T) { compareVerdicts(t, all, verdicts) })
	t.Run("sample", func(t *testing.T) { compareSample(t, all, verdicts) })
}

// compareVerdicts judges every mutant and compares with its verdict. It also
// sees to it that each rule is broken often enough to tell.
func compareVerdicts(t *testing.T, all []mutant, verdicts []verdict) {
	broken := map[string]int{}
	for i, m := range all {
		report := m.judge()
		ours := report.Rules()
		if rules := disagreement(m.mutator, ours, verdicts[i].Rules); len(rules) > 0 {
			t.Errorf("%s, %s, seed %d: %v here, %v there, which disagrees on %v", m.base, m.mutator, m.seed, ours, verdicts[i].Rules, rules)
		}
		if diff := countsDiffer(m.mutator, report, verdicts[i].Counted); diff != "" {
			t.Errorf("%s, %s, seed %d: the counts differ (- there, + here):\n%s", m.base, m.mutator, m.seed, diff)
		}
		if strings.HasPrefix(m.mutator, "none") && len(ours) > 0 {
			t.Errorf("%s, %s, seed %d: %v are broken by what changes nothing", m.base, m.mutator, m.seed, ours)
		}
		for _, rule := range ours {
			broken[rule]++
		}
	}
	for _, rule := range []string{"file", "R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9", "R10", "R11", "R12", "R13", "R14", "R15", "cost", "bound"} {
		if broken[rule] < 20 {
			t.Errorf("%s is broken by %d mutants, want 20", rule, broken[rule])
		}
	}
}

// compareSample asks the second checker again about some mutants, where it is
// there to ask, and compares with what is recorded.
func compareSample(t *testing.T, all []mutant, verdicts []verdict) {
	if thorough.Of(true, false) {
		t.Skip("left to a thorough run")
	}
	requireOther(t)
	var sample []mutant
	var want []verdict
	for i := 0; i < len(all); i += len(all) / 50 {
		sample, want = append(sample, all[i]), append(want, verdicts[i])
	}
	for i, found := range askOther(t, sample) {
		if diff := cmp.Diff(want[i].finding, found); diff != "" {
			t.Errorf("%s, %s, seed %d: the verdict differs (- recorded, + found):\n%s", want[i].Base, want[i].Mutator, want[i].Seed, diff)
		}
	}
}

func allMutants(t testing.TB) []mutant {
	t.Helper()
	var all []mutant
	for _, b := range bases(t) {
		seeds := uint64(seedsOfOther)
		if b.name == "tern" {
			seeds = seedsOfTern
		}
		all = append(all, mutants(t, b, seeds)...)
	}
	return all
}

// countsDiffer says how the counts differ, where both checkers have counted
// and count the same tasks and pieces.
func countsDiffer(mutator string, r *check.Report, theirs *counts) string {
	another := slices.ContainsFunc(differences, func(d difference) bool { return slices.Contains(d.mutators, mutator) })
	if another || theirs == nil || slices.Contains(r.Rules(), check.RuleFile) {
		return ""
	}
	ours := counts{r.Cost.Late, r.Cost.Hold, r.Cost.Oven, r.Cost.Setup, r.Pieces, r.LateSets, r.UnallocatedSets}
	return cmp.Diff(*theirs, ours, cmpopts.EquateApprox(1e-9, 1e-6))
}

// disagreement returns the rules under which just one of the checkers reports
// a mutant, as far as the differences don't explain them; or "valid" where
// just one finds it so.
func disagreement(mutator string, ours, theirs []string) []string {
	if (len(ours) == 0) != (len(theirs) == 0) {
		return []string{"valid"}
	}
	mine := slices.Clone(ours)
	if i := slices.Index(mine, "R2"); i >= 0 {
		mine[i] = "R4"
	}
	var found []string
	for _, rule := range slices.Concat(mine, theirs) {
		if slices.Contains(mine, rule) != slices.Contains(theirs, rule) && !explained(mutator, rule) {
			found = append(found, rule)
		}
	}
	return found
}

func explained(mutator, rule string) bool {
	return slices.ContainsFunc(differences, func(d difference) bool {
		return slices.Contains(d.mutators, mutator) && slices.Contains(d.rules, rule)
	})
}

// The comparison can fail: it tells a difference that no entry explains.
func TestDisagreement(t *testing.T) {
	for _, c := range []struct{ mutator, ours, theirs, want string }{
		{"R6 another end", "R6 R8", "R6 R8", ""},
		{"R6 another end", "", "R6", "valid"},
		{"R6 another end", "R6", "", "valid"},
		{"R6 another end", "R6 R8", "R6", "R8"},
		{"R6 another end", "R6", "R6 cost", "cost"},
		{"R2 another cure end", "R2", "R4", ""},
		{"R2 another cure end", "R2", "R3", "R4 R3"},
		{"R6 no such position", "R6", "R6 R8", ""},
		{"R6 no such position", "R6", "R6 R12", "R12"},
		{"R6 no such position", "", "R8", "valid"},
	} {
		got := disagreement(c.mutator, strings.Fields(c.ours), strings.Fields(c.theirs))
		if !slices.Equal(got, strings.Fields(c.want)) {
			t.Errorf("%s: %q and %q disagree on %v, want %q", c.mutator, c.ours, c.theirs, got, c.want)
		}
	}
}
