package runs_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A plan does not differ from itself, nor from itself with its loads numbered anew.
func TestCompare_Same(t *testing.T) {
	for seed, made := range madeShops(t) {
		s, p := made.shop, made.Plan
		other := *p
		other.Loads = slices.Clone(p.Loads)
		for i := range other.Loads {
			other.Loads[i].ID = fmt.Sprint("X", i)
		}
		for _, q := range []*plan.Plan{p, &other} {
			if d := runs.Compare(s, p, s, q); len(d.Lines)+len(d.Loads) > 0 {
				t.Errorf("shop %d: %+v", seed, d)
			}
		}
	}
}

// Lines that ship on another date, or fewer sets, are told; those that one shop
// alone has, too.
func TestCompare_Lines(t *testing.T) {
	before, after := twoLines(false), twoLines(false)
	gone := shoptest.AddLine(before, "P", 1, 5, 1)
	gone.ID = "gone"
	late := shoptest.AddLine(after, "P", 1, 5, 1)
	late.ID = "new"
	d := runs.Compare(
		before, &plan.Plan{Allocations: []plan.Allocation{given("a", 4, 1), given("b", 2, 3), given("gone", 1, 1)}},
		after, &plan.Plan{Allocations: []plan.Allocation{given("a", 4, 4), given("b", 1, 3)}},
	)
	day := func(n int) *shop.Date { d := bareDay(n); return &d }
	want := []runs.LineMove{
		{Line: "a", Order: "O", Product: "P", Due: bareDay(5), From: day(1), To: day(4)},
		{Line: "b", Order: "O", Product: "P", Due: bareDay(5), From: day(3), To: day(3), UnplannedTo: 1},
		{Line: "new", Product: "P", Due: bareDay(5), UnplannedTo: 1, New: true},
		{Line: "gone", Product: "P", Due: bareDay(5), From: day(1), Gone: true},
	}
	if diff := cmp.Diff(want, d.Lines); diff != "" {
		t.Errorf("lines (-want +got):\n%s", diff)
	}
	if days, ok := d.Lines[0].Days(); days != 3 || !ok {
		t.Errorf("line a moved by %d days, %t", days, ok)
	}
	for i, late := range []struct{ was, is bool }{{false, false}, {false, true}, {false, true}, {false, false}} {
		if m := d.Lines[i]; m.WasLate() != late.was || m.IsLate() != late.is {
			t.Errorf("line %s: was late %t, is late %t", m.Line, m.WasLate(), m.IsLate())
		}
	}
	over := runs.LineMove{Due: bareDay(3), From: day(4), To: day(3)}
	if !over.WasLate() || over.IsLate() {
		t.Error("a line that ships on the day on which it is due is late")
	}
	if _, ok := d.Lines[2].Days(); ok {
		t.Error("a line that did not ship before moved by days")
	}
}

// A load is known again by its oven and time, or by what hangs in it.
func TestCompare_Loads(t *testing.T) {
	tests := []struct {
		name          string
		before, after []shop.Load
		want          []string
	}{
		{"the same under another id", loads(load("A", "o", 8, 5)), loads(load("B", "o", 8, 5)), nil},
		{"more hangs in it", loads(load("A", "o", 8, 5)), loads(load("A", "o", 8, 6)), []string{"changed A A"}},
		{"it goes in later", loads(load("A", "o", 8, 5)), loads(load("C", "o", 9, 5)), []string{"changed A C"}},
		{"another oven", loads(load("A", "o", 8, 5)), loads(load("C", "q", 8, 5)), []string{"changed A C"}},
		{"one more", loads(load("A", "o", 8, 5)), loads(load("Z", "o", 6, 1), load("A", "o", 8, 5)), []string{"added  Z"}},
		{"one less", loads(load("A", "o", 8, 5), load("B", "o", 12, 5)), loads(load("A", "o", 12, 5)), []string{"removed A "}},
		{
			"two alike, of which one is left", loads(load("A", "o", 8, 5), load("B", "q", 8, 5)), loads(load("A", "q", 8, 5)),
			[]string{"removed A "},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := twoLines(false)
			var got []string
			for _, c := range runs.Compare(s, &plan.Plan{Loads: test.before}, s, &plan.Plan{Loads: test.after}).Loads {
				got = append(got, fmt.Sprintf("%s %s %s", c.What, id(c.Before), id(c.After)))
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("changes (-want +got):\n%s", diff)
			}
		})
	}
}

func loads(list ...shop.Load) []shop.Load { return list }

// load is a load that goes in at an hour of the bare shop's first day.
func load(id, oven string, hour, pieces int) shop.Load {
	hang := [][]shop.Hang{{{Section: "S", Pieces: pieces}}}
	return shop.Load{ID: id, Oven: oven, In: bareAt(0, hour*60), Out: bareAt(0, hour*60+90), Racks: []shop.RackUse{{Rack: "R", Setup: "U", Levels: hang}}}
}

func id(l *shop.Load) string {
	if l == nil {
		return ""
	}
	return l.ID
}
