package bound

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
)

// Pieces that a load holds are worth no more than the filler says, whatever they
// are worth.
func TestFiller_NoLoadHoldsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t)
		kinds, h := loadKinds(in)
		runs, need, worth := drawRuns(t, in)
		f := newFiller(in, h, lotsOf(need), need)
		f.set(worth)
		sum := Money(0)
		for _, r := range runs {
			sum += Money(r.Pieces) * worth[r.Section]
		}
		most := map[instance.Way]Money{}
		for i := range kinds {
			k := &kinds[i]
			most[k.way] = max(most[k.way], f.most(k.racks, k.way.Profile))
		}
		for way, worth := range most {
			fits := !slices.ContainsFunc(runs, func(r rack.Run) bool { return !in.Sections[r.Section].Profiles[way.Profile] })
			if _, ok := in.Ovens[way.Oven].Room.Pack(runs); ok && fits && sum > worth {
				t.Errorf("a load in oven %d is worth %d, at most %d", way.Oven, sum, worth)
			}
		}
	})
}

// drawRuns draws pieces for a load, as many or more of each section to be made,
// and what a piece of each is worth.
func drawRuns(t *rapid.T, in *instance.Instance) (runs []rack.Run, need []int, worth []Money) {
	for s := range in.Sections {
		pool := in.Mandrels[in.Sections[s].Mandrel].Total
		n := rapid.IntRange(0, 30).Draw(t, "pieces")
		for _, r := range runs {
			if in.Sections[r.Section].Mandrel == in.Sections[s].Mandrel {
				pool -= r.Pieces
			}
		}
		if n = min(n, pool); n > 0 && rapid.Bool().Draw(t, "there") {
			runs = append(runs, rack.Run{Section: s, Pieces: n})
		}
		need = append(need, n+rapid.IntRange(0, 5).Draw(t, "more"))
		worth = append(worth, rapid.Int64Range(0, 1e12).Draw(t, "worth"))
	}
	return runs, need, worth
}
