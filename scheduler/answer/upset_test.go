package answer_test

import (
	"slices"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
)

// Removing a load ends as soon as it upsets more than it may, and what was removed by
// then can be undone.
func TestRemoveUpsetting(t *testing.T) {
	found := 0
	for seed, s := range someShops(30) {
		a := answer.Read(instance.New(s), searched(s, uint64(seed)).Plan())
		before := a.Plan().Encode()
		for _, l := range slices.Clone(a.Loads) {
			mark := a.Table.Mark()
			n := len(a.Table.Remove(l))
			a.Table.Undo(mark)
			if upset, ok := a.Table.RemoveUpsetting(n, l); !ok || len(upset) != n {
				t.Errorf("shop %d: load %d upsets %d of %d", seed, l.ID, len(upset), n)
			}
			a.Table.Undo(mark)
			if n == 0 {
				continue
			}
			found++
			if upset, ok := a.Table.RemoveUpsetting(n-1, l); ok {
				t.Errorf("shop %d: load %d upsets %d, though it may upset %d at most", seed, l.ID, len(upset), n-1)
			}
			a.Table.Undo(mark)
		}
		if string(a.Plan().Encode()) != string(before) {
			t.Errorf("shop %d: all is undone, and the plan is another", seed)
		}
	}
	if found == 0 {
		t.Error("no load upsets another: these shops try nothing")
	}
}

// A change that would upset many loads is refused, and changes nothing: in a shop whose
// people are always busy, where one load upsets a hundred.
func TestTry_UpsetsFew(t *testing.T) {
	in := instance.New(benchtest.Contract(t, "season"))
	a := construct.Build(in, construct.RulesFor(in)[0], nil)
	before := a.Plan().Encode()
	refused := 0
	for _, l := range slices.Clone(a.Loads) {
		mark := a.Table.Mark()
		_, few := a.Table.RemoveUpsetting(20, l)
		a.Table.Undo(mark)
		if few {
			continue
		}
		refused++
		if a.Try(answer.Change{Out: []*line.Load{l}}) {
			t.Errorf("load %d upsets more than twenty, and is taken out", l.ID)
			a.Undo()
		}
	}
	if refused == 0 {
		t.Error("no load upsets twenty: this shop tries nothing")
	}
	if string(a.Plan().Encode()) != string(before) {
		t.Error("all changes are refused, and the plan is another")
	}
}
