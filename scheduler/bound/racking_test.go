package bound

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shoptest"
)

func drawInstance(t *rapid.T) *instance.Instance {
	seed, pieces := rapid.Uint64().Draw(t, "shop"), rapid.IntRange(1, 80).Draw(t, "pieces")
	return instance.New(shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Pieces: pieces})))
}

// Merged, sets of racks hold at least what each single one does: where there are
// too many, they bound the same loads.
func TestRackings_MergedHoldMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t)
		h := heightsOf(in)
		for i := range in.Ovens {
			room := in.Ovens[i].Room
			var parts []part
			for _, k := range room.Kinds {
				parts = append(parts, newPart(in, h, k))
			}
			exact, ok := gather(room, parts)
			if !ok || len(exact) == 0 {
				continue
			}
			merged, ok := gather(room, byRack(parts))
			if !ok || len(merged) > len(exact) {
				t.Fatalf("%d sets of racks, by rack %d", len(exact), len(merged))
			}
			for k := range exact {
				expectHeld(t, &exact[k], merged)
				expectHeld(t, &exact[k], []racking{endless(room, parts)})
			}
		}
	})
}

// expectHeld expects of some racking that it is at least as good as another.
func expectHeld(t *rapid.T, r *racking, others []racking) {
	t.Helper()
	if !slices.ContainsFunc(others, func(o racking) bool {
		better := o.tare <= r.tare+epsilon && o.kg >= r.kg-epsilon
		for j := range r.pegs {
			better = better && o.pegs[j] >= r.pegs[j]
		}
		for s, take := range r.take {
			better = better && (take == 0 || o.take[s] > 0 && o.take[s] <= take)
		}
		return better
	}) {
		t.Errorf("no set of racks holds what %+v does", r)
	}
}
