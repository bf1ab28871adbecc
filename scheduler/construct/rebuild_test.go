package construct_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shoptest"
)

// A stand is where a load stands.
type stand struct{ oven, in, out int }

// madeFirst returns where those n loads of an answer stand that were made first.
func madeFirst(a *answer.Answer, n int) (list []stand) {
	loads := slices.SortedFunc(slices.Values(a.Loads), func(x, y *line.Load) int { return x.ID - y.ID })
	for _, l := range loads[:n] {
		list = append(list, stand{l.Oven, l.In, l.Out})
	}
	return list
}

// The first loads stay where they are, what they leave is made by the rule, no piece
// twice, and the plan is valid. With all loads kept nothing changes; with none kept the
// answer is the rule's own.
func TestRebuild(t *testing.T) {
	s := shoptest.Accepted(shoptest.Grow(500, 1))
	in := instance.New(s)
	rules := construct.RulesFor(in)
	built, other := construct.Build(in, rules[0], nil), construct.Build(in, rules[1], nil)
	loads := len(built.Loads)
	for _, kept := range []int{0, 1, loads / 2, loads} {
		a := built.Copy()
		if !construct.Rebuild(a, kept, rules[1], nil) {
			t.Fatalf("with %d loads kept there is no answer", kept)
		}
		if got, want := madeFirst(a, kept), madeFirst(built, kept); !slices.Equal(got, want) {
			t.Errorf("of %d loads that are kept %v stand at %v", kept, want, got)
		}
		if kept == 0 && !slices.Equal(madeFirst(a, len(a.Loads)), madeFirst(other, len(other.Loads))) {
			t.Error("with no load kept the answer is not the rule's own")
		}
		if same := a.Cost() == built.Cost(); same != (kept == loads) {
			t.Errorf("with %d of %d loads kept the answer costs the same: %v", kept, loads, same)
		}
		if slices.Min(a.Spare) < 0 {
			t.Errorf("with %d loads kept pieces are made twice: %v", kept, a.Spare)
		}
		for _, b := range check.Plan(s, a.Plan()).Breaches {
			if b.Rule != check.RuleBound {
				t.Errorf("with %d loads kept: %v", kept, b)
			}
		}
	}
}

// Stopped at once, nothing is made anew.
func TestRebuild_Stopped(t *testing.T) {
	in := instance.New(shoptest.Accepted(shoptest.Grow(500, 1)))
	a := construct.Build(in, construct.Rules[0], nil)
	if !construct.Rebuild(a, 2, construct.Rules[1], func() bool { return true }) {
		t.Fatal("the first two loads cannot stand alone")
	}
	if len(a.Loads) != 2 || !slices.ContainsFunc(a.Loads, func(l *line.Load) bool { return l.ID == 1 }) {
		t.Errorf("%d loads are left, want the first two", len(a.Loads))
	}
}
