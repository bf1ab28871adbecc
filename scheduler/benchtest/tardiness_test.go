package benchtest_test

import (
	"cmp"
	"slices"
	"testing"

	"blankwright/scheduler/benchtest"
)

// The costs of three orders of three problems are those that were counted when the
// contract's data were gathered: as the file lists the jobs, the earliest due
// first, and the heaviest for its time first, equals as listed.
func TestWT40(t *testing.T) {
	problems := benchtest.WT40(t)
	cases := []struct{ number, listed, due, weight, least int }{
		{1, 16672, 1588, 3066, 913},
		{25, 241293, 245081, 129889, problems[24].Least},
		{125, 191852, 207187, 112873, 104531},
	}
	for _, c := range cases {
		q := problems[c.number-1]
		byDue, byWeight := slices.Clone(q.Jobs), slices.Clone(q.Jobs)
		slices.SortStableFunc(byDue, func(a, b benchtest.Job) int { return cmp.Compare(a.Due, b.Due) })
		slices.SortStableFunc(byWeight, func(a, b benchtest.Job) int {
			return cmp.Compare(b.Weight*a.Days, a.Weight*b.Days)
		})
		listed, due, weight := tardiness(q.Jobs), tardiness(byDue), tardiness(byWeight)
		if listed != c.listed || due != c.due || weight != c.weight || q.Least != c.least {
			t.Errorf("%s: %d, %d, %d and %d at least, want %d, %d, %d and %d",
				q.Name, listed, due, weight, q.Least, c.listed, c.due, c.weight, c.least)
		}
	}
}

// tardiness returns what jobs cost in the order given.
func tardiness(jobs []benchtest.Job) (sum int) {
	done := 0
	for _, j := range jobs {
		done += j.Days
		sum += j.Weight * max(0, done-j.Due)
	}
	return sum
}
