package benchtest_test

import (
	"testing"

	"blankwright/scheduler/benchtest"
)

// The first problem is the contract's example, of two families of ten jobs on two
// machines in threes; of all 144, one optimum is not proven.
func TestChiang(t *testing.T) {
	problems := benchtest.Chiang(t)
	first := problems[0]
	if first.Name != "COR10-F2-M2-JF10-B3-0.25-0.25-1" || first.Machines != 2 || first.Most != 3 || len(first.Days) != 2 || len(first.Jobs) != 20 || first.Least != 166.25 {
		t.Errorf("the first problem is %+v", first)
	}
	if want := (benchtest.FamilyJob{Family: 0, Ready: 7, Due: 11, Weight: 0.82}); first.Jobs[0] != want {
		t.Errorf("its first job is %+v, want %+v", first.Jobs[0], want)
	}
	open := 0
	for _, b := range problems {
		if len(b.Jobs) != 20 && len(b.Jobs) != 40 {
			t.Errorf("%s has %d jobs", b.Name, len(b.Jobs))
		}
		if b.Bound < b.Least {
			open++
		}
	}
	if len(problems) != 144 || open != 1 {
		t.Errorf("%d problems, %d without proof", len(problems), open)
	}
}
