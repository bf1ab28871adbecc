package line_test

import (
	"bytes"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// limits returns every kind of obstacle with every index that it can have.
func limits(in *instance.Instance) map[line.Kind]int {
	return map[line.Kind]int{
		line.Now: 1, line.Horizon: 1, line.GreenTime: 1, line.StationBusy: shop.StageCount,
		line.OvenBusy: len(in.Ovens), line.CrewBusy: len(in.Crews), line.MandrelsOut: len(in.Mandrels),
		line.RacksOut: len(in.Racks), line.NoMaterial: len(in.Prepregs), line.OpenTime: len(in.Prepregs),
	}
}

// sooner takes each load out, places it as soon as it can be, and undoes that.
// It returns the sum of the oven starts.
func sooner(a *answer.Answer) (sum line.Tick) {
	for _, l := range a.Loads {
		mark := a.Table.Mark()
		a.Table.Remove(l)
		again := l.Again()
		again.Target, again.Latest = 0, l.In
		if a.Table.Place(again) {
			sum += again.In
		} else {
			sum += l.In
		}
		a.Table.Undo(mark)
	}
	return sum
}

// A relaxed resource leaves no trace once it is put back: neither in the plan
// nor in what can be placed in it.
func TestRelax_LeavesNoTrace(t *testing.T) {
	for seed := range uint64(12) {
		a := construct.Build(instance.New(shoptest.Make(seed, shoptest.Size{Pieces: 40})), construct.Rules[0], nil)
		plan, starts := a.Plan().Encode(), sooner(a)
		for kind, n := range limits(a.In) {
			for index := range n {
				putBack := a.Table.Relax(kind, index)
				sooner(a)
				putBack()
			}
		}
		if !bytes.Equal(a.Plan().Encode(), plan) {
			t.Errorf("seed %d: the plan has changed", seed)
		}
		if got := sooner(a); got != starts {
			t.Errorf("seed %d: oven starts sum up to %d, before to %d", seed, got, starts)
		}
	}
}
