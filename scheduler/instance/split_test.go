package instance_test

import (
	"math"
	"slices"
	"testing"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A run's batches hold its pieces, are as few as there can be, and of all such splits,
// tried one by one, none takes fewer minutes.
func TestSplit_Quickest(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.TransferPieces = 6
	minutes := &s.Products[0].Sections[0].Minutes
	minutes.Tack, minutes.Roll, minutes.Wrap, minutes.Strip = 1.4, 0.7, 1.25, 0.34
	s.Stations.Wrap.Crew, s.Stations.Wrap.People = "hands", 2
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "always", People: 4}}}}
	shoptest.AddLine(s, "P", 40, 5, 1)
	in := instance.New(shoptest.Accepted(s))
	better := 0
	for n := 1; n <= 40; n++ {
		split := in.Split(0, n)
		if got, want := minutesOf(in, split), leastOf(in, n, (n+5)/6, 6); got != want {
			t.Errorf("%d pieces as %v take %d minutes, can take %d", n, split, got, want)
		}
		if sum(split) != n || len(split) != (n+5)/6 || slices.Max(split) > 6 || !slices.IsSortedFunc(split, func(a, b int) int { return b - a }) {
			t.Errorf("%d pieces are split as %v", n, split)
		}
		if minutesOf(in, split) < minutesOf(in, full(n, 6)) {
			better++
		}
	}
	if better == 0 {
		t.Error("no split is quicker than full batches and a rest")
	}
}

// Minutes and people may be as many as a shop file can name.
func TestSplit_OfWhatTakesForever(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.TransferPieces = 6
	for _, stage := range shop.Stages() {
		s.Stations.At(stage).Crew, s.Stations.At(stage).People = "hands", 1e9
	}
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "always", People: 1e9}}}}
	s.Products[0].Sections[0].Minutes.Roll = 1e9
	shoptest.AddLine(s, "P", 40, 5, 1)
	in := instance.New(shoptest.Accepted(s))
	for n := 1; n <= 40; n++ {
		if split := in.Split(0, n); sum(split) != n || len(split) != (n+5)/6 || slices.Min(split) < 1 || slices.Max(split) > 6 {
			t.Errorf("%d pieces are split as %v", n, split)
		}
	}
}

// What is larger than any run of a plan is split all the same.
func TestSplit_LargerThanNeeded(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.TransferPieces = 6
	shoptest.AddLine(s, "P", 3, 5, 1)
	if got := instance.New(shoptest.Accepted(s)).Split(0, 15); !slices.Equal(got, []int{6, 6, 3}) {
		t.Errorf("15 pieces are split as %v", got)
	}
}

func full(pieces, most int) (split []int) {
	for ; pieces > 0; pieces -= most {
		split = append(split, min(pieces, most))
	}
	return split
}

func sum(list []int) (sum int) {
	for _, n := range list {
		sum += n
	}
	return sum
}

// minutesOf returns what batches of the first section take: two people at the wrap.
func minutesOf(in *instance.Instance, split []int) (sum int) {
	for _, n := range split {
		for _, stage := range shop.Stages() {
			one := max(1, in.Work(stage, 0, 0, n))
			if stage == shop.Wrap {
				one *= 2
			}
			sum += one
		}
	}
	return sum
}

// leastOf returns the least minutes of so many pieces in so many batches, none larger
// than the one before.
func leastOf(in *instance.Instance, pieces, batches, most int) int {
	if batches == 0 {
		if pieces == 0 {
			return 0
		}
		return math.MaxInt / 2
	}
	least := math.MaxInt / 2
	for k := 1; k <= min(pieces, most); k++ {
		least = min(least, minutesOf(in, []int{k})+leastOf(in, pieces-k, batches-1, k))
	}
	return least
}
