package instance

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// Split returns the pieces of each transfer batch of a run, the most first: as few
// batches as there can be and, of these, such as take the fewest minutes of people and
// positions. Every task takes whole minutes, so that sizes differ in what they lose.
func (in *Instance) Split(section, pieces int) []int {
	if splits := in.Sections[section].splits; pieces < len(splits) {
		return splits[pieces]
	}
	return in.full(pieces)
}

// full splits a run into full batches and a rest.
func (in *Instance) full(pieces int) (split []int) {
	for ; pieces > 0; pieces -= in.Transfer {
		split = append(split, min(pieces, in.Transfer))
	}
	return split
}

// mostSplit bounds the runs for which the quickest split is looked for.
const mostSplit = 256

// splits finds the splits of all runs of each section that a plan may have.
func (c *compiler) splits() {
	in := c.in
	for i := range in.Sections {
		s := &in.Sections[i]
		most := min(in.Mandrels[s.Mandrel].Total, in.Starts(i, in.Wanted(s.Product))+s.Anew, mostSplit)
		s.splits = in.splitsOf(i, most)
	}
}

// splitsOf finds the splits of a section's runs of up to so many pieces, each by one of
// fewer pieces and one batch more.
func (in *Instance) splitsOf(section, most int) [][]int {
	batches := func(pieces int) int { return (pieces + in.Transfer - 1) / in.Transfer }
	splits, least := make([][]int, most+1), make([]float64, most+1)
	each := make([]float64, min(in.Transfer, most)+1)
	for n := 1; n <= most; n++ {
		if n < len(each) {
			each[n] = in.taken(section, n)
		}
		last := 0
		least[n] = math.Inf(1)
		for k := 1; k < len(each) && k <= n; k++ {
			// Of equals the one with the larger batch, which leaves a smaller rest.
			if sum := each[k] + least[n-k]; batches(n-k) < batches(n) && sum <= least[n] {
				least[n], last = sum, k
			}
		}
		splits[n] = append(slices.Clone(splits[n-last]), last)
		slices.SortFunc(splits[n], func(a, b int) int { return b - a })
	}
	return splits
}

// taken returns the minutes of people, or of positions where nobody is needed, that a
// batch takes at all stages together, set-ups not counted; a shop file may name more than
// whole numbers hold.
func (in *Instance) taken(section, pieces int) (sum float64) {
	for _, stage := range shop.Stages() {
		cuts := 1
		if stage == shop.Cut {
			cuts = len(in.Sections[section].Cuts)
		}
		for cut := range cuts {
			each := float64(max(1, in.Work(stage, section, cut, pieces)))
			sum += float64(float64(max(1, in.Stations[stage].People)) * each)
		}
	}
	return sum
}
