package crib_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"blankwright/store/crib"
)

func hour(h int) time.Time { return noon.Add(time.Duration(h) * time.Hour) }

// need is pieces of type B from one hour to another; -1 is never back.
func need(load string, pieces, out, back int) crib.Need {
	n := crib.Need{Load: load, Section: load + ".1", Type: "B", Pieces: pieces, Out: hour(out)}
	if back >= 0 {
		n.Back = hour(back)
	}
	return n
}

func tool(id string, place crib.Place, cycles int) crib.Mandrel {
	return crib.Mandrel{ID: id, Type: "B", Place: place, Cycles: crib.Cycles{All: cycles, SinceRecoat: cycles, SinceInspection: cycles}}
}

func backAt(m crib.Mandrel, h int) crib.Mandrel {
	m.Back = hour(h)
	return m
}

// names returns the ids of each choice, and how many it lacks as dots.
func names(choices []crib.Choice) []string {
	var out []string
	for _, c := range choices {
		var ids []string
		for _, m := range c.Mandrels {
			ids = append(ids, m.ID)
		}
		out = append(out, strings.Join(ids, " ")+strings.Repeat(".", c.Lacking))
	}
	return out
}

// The least used go first, then those that are back by then; none comes due
// within the work, and one that a load gives back may serve the next.
func TestPick(t *testing.T) {
	tests := []struct {
		name     string
		needs    []crib.Need
		mandrels []crib.Mandrel
		limits   crib.Limits
		want     []string
	}{
		{
			"least used first",
			[]crib.Need{need("L1", 2, 1, 5)},
			[]crib.Mandrel{tool("a", crib.InCrib, 9), tool("b", crib.InCrib, 3), tool("c", crib.InCrib, 4)},
			crib.Limits{},
			[]string{"b c"},
		},
		{
			"of equals the first by id",
			[]crib.Need{need("L1", 1, 1, 5)},
			[]crib.Mandrel{tool("b", crib.InCrib, 3), tool("a", crib.InCrib, 3)},
			crib.Limits{},
			[]string{"a"},
		},
		{
			"only what is in the crib, or back by then",
			[]crib.Need{need("L1", 4, 3, 5)},
			[]crib.Mandrel{
				tool("a", crib.Cleaning, 0), backAt(tool("b", crib.Cleaning, 0), 3), backAt(tool("c", crib.Recoating, 0), 4),
				tool("d", crib.Quarantine, 0), tool("e", crib.Scrapped, 0), tool("f", crib.InCrib, 9),
			},
			crib.Limits{},
			[]string{"f b.."},
		},
		{
			"none that is due",
			[]crib.Need{need("L1", 2, 1, 5)},
			[]crib.Mandrel{tool("a", crib.InCrib, 50), tool("b", crib.InCrib, 49)},
			crib.Limits{Recoat: 50},
			[]string{"b."},
		},
		{
			"none that comes due on the way",
			[]crib.Need{need("L1", 1, 1, 5), need("L2", 1, 6, 9)},
			[]crib.Mandrel{tool("a", crib.InCrib, 49)},
			crib.Limits{Inspection: 50},
			[]string{"a", "."},
		},
		{
			"again when it is back",
			[]crib.Need{need("L1", 1, 1, 5), need("L2", 1, 4, 9), need("L3", 1, 5, 9)},
			[]crib.Mandrel{tool("a", crib.InCrib, 0)},
			crib.Limits{},
			[]string{"a", ".", "a"},
		},
		{
			"not when it never is",
			[]crib.Need{need("L1", 1, 1, -1), need("L2", 1, 90, 91)},
			[]crib.Mandrel{tool("a", crib.InCrib, 0)},
			crib.Limits{},
			[]string{"a", "."},
		},
	}
	for _, test := range tests {
		before := slices.Clone(test.mandrels)
		got := names(crib.Pick(test.needs, test.mandrels, map[string]crib.Limits{"B": test.limits}))
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", test.name, diff)
		}
		if diff := cmp.Diff(before, test.mandrels); diff != "" {
			t.Errorf("%s: the mandrels changed (-before +after)\n%s", test.name, diff)
		}
	}
}

// A load that has had some of its mandrels needs the rest of them; what was
// tacked before now has its own, booked or not.
func TestOutstanding(t *testing.T) {
	needs := []crib.Need{need("L1", 2, 1, 5), need("L1", 3, 4, 8), need("L1", 4, 6, 9), need("L2", 1, 4, 8)}
	tests := []struct {
		name   string
		issued int
		used   int
		now    int
		want   []crib.Need
	}{
		{"nothing booked", 0, 0, 0, needs},
		{"the first tacked unbooked", 0, 0, 2, needs[1:]},
		{"one booked beside them", 3, 0, 2, []crib.Need{need("L1", 2, 4, 8), need("L1", 4, 6, 9), need("L2", 1, 4, 8)}},
		{"all booked", 9, 0, 2, needs[3:]},
		{"some back already", 3, 2, 2, []crib.Need{need("L1", 4, 6, 9), need("L2", 1, 4, 8)}},
		{"all back", 0, 9, 4, needs[3:]},
		{"all tacked", 0, 0, 7, nil},
	}
	for _, test := range tests {
		var mandrels []crib.Mandrel
		for range test.issued {
			m := tool("a", crib.Issued, 0)
			m.Load = "L1"
			mandrels = append(mandrels, m)
		}
		got, _ := crib.Outstanding(needs, mandrels, map[crib.LoadType]int{{Load: "L1", Type: "B"}: test.used}, hour(test.now))
		if diff := cmp.Diff(test.want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got)\n%s", test.name, diff)
		}
	}
}

// Issued mandrels are back as their load gives them back: those of one that is
// over, now; those that it has no use for, nobody knows when.
func TestOutstanding_Back(t *testing.T) {
	on := func(load, kind string) crib.Mandrel {
		return crib.Mandrel{Type: kind, Place: crib.Issued, Load: load}
	}
	needs := []crib.Need{need("L1", 1, 0, 2), need("L1", 1, 1, 5), need("L1", 1, 2, 6)}
	mandrels := []crib.Mandrel{on("L1", "B"), on("L1", "B"), on("L1", "B"), on("L1", "C"), on("L0", "B")}
	_, known := crib.Outstanding(needs, mandrels, nil, hour(3))
	var got []time.Time
	for _, m := range known {
		got = append(got, m.Back)
	}
	if diff := cmp.Diff([]time.Time{hour(5), hour(6), {}, {}, hour(3)}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Whatever is needed: no mandrel is in two places at once, none is named in
// spite of a limit, of those in the crib no less used one is passed over, and
// where as many are there as are ever out at once, none is lacking.
func TestPick_AnyNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		needs, mandrels := anyNeeds(t), anyTools(t)
		limits := crib.Limits{Recoat: rapid.SampledFrom([]int{0, 2, 5}).Draw(t, "limit")}
		choices := crib.Pick(needs, mandrels, map[string]crib.Limits{"B": limits})
		byID, uses := map[string]crib.Mandrel{}, map[string]int{}
		for _, m := range mandrels {
			byID[m.ID] = m
		}
		free := map[string]time.Time{}
		for _, c := range choices {
			if len(c.Mandrels)+c.Lacking != c.Pieces {
				t.Fatalf("%d named and %d lacking of %d", len(c.Mandrels), c.Lacking, c.Pieces)
			}
			for _, chosen := range c.Mandrels {
				if free[chosen.ID].After(c.Out) {
					t.Fatalf("%s is in two places at %v", chosen.ID, c.Out)
				}
				if limits.Recoat > 0 && byID[chosen.ID].SinceRecoat+uses[chosen.ID] >= limits.Recoat {
					t.Fatalf("%s is due before %v", chosen.ID, c.Out)
				}
				passedOver(t, mandrels, c, byID[chosen.ID], uses)
			}
			for _, chosen := range c.Mandrels {
				free[chosen.ID] = c.Back
				uses[chosen.ID]++
			}
		}
		enough(t, needs, len(mandrels), limits, choices)
	})
}

// passedOver fails where another mandrel still in the crib is less used than
// one from the crib that was named.
func passedOver(t *rapid.T, mandrels []crib.Mandrel, c crib.Choice, named crib.Mandrel, uses map[string]int) {
	if uses[named.ID] > 0 {
		return
	}
	for _, m := range mandrels {
		taken := slices.ContainsFunc(c.Mandrels, func(x crib.Chosen) bool { return x.ID == m.ID })
		if !taken && uses[m.ID] == 0 && m.All < named.All {
			t.Fatalf("%s was passed over for %s", m.ID, named.ID)
		}
	}
}

func enough(t *rapid.T, needs []crib.Need, count int, limits crib.Limits, choices []crib.Choice) {
	if limits.Recoat > 0 {
		return
	}
	for _, n := range needs {
		out := 0
		for _, other := range needs {
			if !other.Out.After(n.Out) && other.Back.After(n.Out) {
				out += other.Pieces
			}
		}
		if out > count {
			return
		}
	}
	for _, c := range choices {
		if c.Lacking > 0 {
			t.Fatalf("%d lacking for %s, though there are never too few", c.Lacking, c.Load)
		}
	}
}

func anyNeeds(t *rapid.T) []crib.Need {
	out := make([]crib.Need, rapid.IntRange(1, 8).Draw(t, "needs"))
	for i := range out {
		from := rapid.IntRange(0, 20).Draw(t, "out")
		out[i] = need("L", rapid.IntRange(1, 4).Draw(t, "pieces"), from, from+rapid.IntRange(1, 6).Draw(t, "hours"))
	}
	slices.SortStableFunc(out, func(x, y crib.Need) int { return x.Out.Compare(y.Out) })
	return out
}

func anyTools(t *rapid.T) []crib.Mandrel {
	out := make([]crib.Mandrel, rapid.IntRange(1, 9).Draw(t, "mandrels"))
	for i := range out {
		out[i] = tool(string(rune('a'+i)), crib.InCrib, rapid.IntRange(0, 4).Draw(t, "cycles"))
	}
	return out
}
