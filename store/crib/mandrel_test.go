package crib_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/store/crib"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// Each move leads where the trade expects it (common practice, no source),
// with the cycles that it counts or ends.
func TestMandrel_Do(t *testing.T) {
	limits := crib.Limits{Recoat: 50, Inspection: 100}
	used := crib.Cycles{All: 70, SinceRecoat: 20, SinceInspection: 70}
	more := crib.Cycles{All: 71, SinceRecoat: 21, SinceInspection: 71}
	tests := []struct {
		name   string
		place  crib.Place
		order  crib.Order
		want   crib.Place
		cycles crib.Cycles
	}{
		{"issued to a load", crib.InCrib, crib.Order{Move: crib.Issue, Load: "L2"}, crib.Issued, used},
		{"back from it, to be wiped", crib.Issued, crib.Order{Move: crib.Return}, crib.Cleaning, more},
		{"not worked with", crib.Issued, crib.Order{Move: crib.Return, Unused: true}, crib.InCrib, used},
		{"back bent", crib.Issued, crib.Order{Move: crib.Return, Damaged: true, Remark: "bent"}, crib.Quarantine, more},
		{"bent before it was used", crib.Issued, crib.Order{Move: crib.Return, Unused: true, Damaged: true, Remark: "bent"}, crib.Quarantine, used},
		{"broken at the bench", crib.Issued, crib.Order{Move: crib.Scrap, Remark: "snapped"}, crib.Scrapped, more},
		{"wiped", crib.Cleaning, crib.Order{Move: crib.ToCrib}, crib.InCrib, used},
		{"recoated", crib.Recoating, crib.Order{Move: crib.ToCrib}, crib.InCrib, crib.Cycles{All: 70, SinceInspection: 70}},
		{"recoated, to be looked at", crib.Recoating, crib.Order{Move: crib.Inspect}, crib.Inspection, crib.Cycles{All: 70, SinceInspection: 70}},
		{"spoiled at recoating", crib.Recoating, crib.Order{Move: crib.ToQuarantine, Remark: "dented"}, crib.Quarantine, used},
		{"passed", crib.Inspection, crib.Order{Move: crib.Pass}, crib.InCrib, crib.Cycles{All: 70, SinceRecoat: 20}},
		{"failed", crib.Inspection, crib.Order{Move: crib.Fail, Remark: "0.4 mm off straight"}, crib.Quarantine, used},
		{"reground, so looked at", crib.Regrind, crib.Order{Move: crib.Inspect}, crib.Inspection, used},
	}
	for _, test := range tests {
		before := crib.Mandrel{ID: "B-1", Type: "B", Place: test.place, Cycles: used}
		after, err := before.Do(test.order, limits)
		want := crib.Mandrel{ID: "B-1", Type: "B", Place: test.want, Load: test.order.Load, Cycles: test.cycles}
		if diff := cmp.Diff(want, after); diff != "" || err != nil {
			t.Errorf("%s: %v (-want +got)\n%s", test.name, err, diff)
		}
	}
}

// What cannot be is refused, with the place, the reason and what can be.
func TestMandrel_Refused(t *testing.T) {
	limits := crib.Limits{Recoat: 50, Inspection: 100}
	tests := []struct {
		name    string
		mandrel crib.Mandrel
		move    crib.Move
		want    string
	}{
		{
			"already out",
			crib.Mandrel{Place: crib.Issued, Load: "L2"},
			crib.Issue,
			"B-1 is issued to load L2, so issue is not possible; possible: return, quarantine, scrap",
		},
		{
			"due",
			crib.Mandrel{Place: crib.InCrib, Cycles: crib.Cycles{All: 50, SinceRecoat: 50, SinceInspection: 50}},
			crib.Issue,
			"B-1 is in the crib, due for recoating (50 of 50 cycles), so issue is not possible; " +
				"possible: clean, recoat, inspect, quarantine, scrap",
		},
		{
			"unseen out of quarantine",
			crib.Mandrel{Place: crib.Quarantine},
			crib.ToCrib,
			"B-1 is in quarantine, so crib is not possible; possible: inspect, regrind, scrap",
		},
		{
			"from the scrap",
			crib.Mandrel{Place: crib.Scrapped},
			crib.Inspect,
			"B-1 is scrapped, so inspect is not possible; possible: nothing",
		},
	}
	for _, test := range tests {
		test.mandrel.ID = "B-1"
		after, err := test.mandrel.Do(crib.Order{Move: test.move, Load: "L3"}, limits)
		if err == nil || err.Error() != test.want {
			t.Errorf("%s: got %v, want %s", test.name, err, test.want)
		}
		if after != test.mandrel {
			t.Errorf("%s: the refused move changed %+v", test.name, after)
		}
	}
}

// An order that makes no sense is refused whatever the mandrel, with every
// field that is wrong.
func TestOrder_Problems(t *testing.T) {
	tests := []struct {
		name  string
		order crib.Order
		want  string
	}{
		{"no such move", crib.Order{Move: "melt"}, "move"},
		{"to no load", crib.Order{Move: crib.Issue}, "load"},
		{"back to a load", crib.Order{Move: crib.Return, Load: "L2"}, "load"},
		{"unused at cleaning", crib.Order{Move: crib.Clean, Unused: true, Damaged: true, Remark: "?"}, "unused damaged"},
		{"scrapped for nothing", crib.Order{Move: crib.Scrap}, "remark"},
		{"bent, says nobody", crib.Order{Move: crib.Return, Damaged: true}, "remark"},
		{"back before it went", crib.Order{Move: crib.Recoat, At: noon, Until: noon}, "until"},
		{"back from the crib", crib.Order{Move: crib.ToCrib, At: noon, Until: noon.Add(1)}, "until"},
		{"well said", crib.Order{Move: crib.Recoat, At: noon, Until: noon.Add(1)}, ""},
	}
	for _, test := range tests {
		var paths []string
		for _, p := range test.order.Problems() {
			paths = append(paths, p.Path)
		}
		if got := strings.Join(paths, " "); got != test.want {
			t.Errorf("%s: problems at %q, want %q", test.name, got, test.want)
		}
	}
}

// A mandrel is due from the cycle on that its limit names, and without a limit
// never.
func TestCycles_Due(t *testing.T) {
	tests := []struct {
		cycles crib.Cycles
		limits crib.Limits
		want   int
	}{
		{crib.Cycles{All: 900, SinceRecoat: 900, SinceInspection: 900}, crib.Limits{}, 0},
		{crib.Cycles{SinceRecoat: 49}, crib.Limits{Recoat: 50}, 0},
		{crib.Cycles{SinceRecoat: 50}, crib.Limits{Recoat: 50}, 1},
		{crib.Cycles{SinceRecoat: 51, SinceInspection: 51}, crib.Limits{Recoat: 50, Inspection: 50}, 2},
	}
	for _, test := range tests {
		if got := len(test.cycles.Due(test.limits)); got != test.want {
			t.Errorf("%+v under %+v: %d due, want %d", test.cycles, test.limits, got, test.want)
		}
	}
}

// Whatever is ordered in whatever order: a mandrel is in one known place; what
// is said to be possible is, and nothing else; cycles only grow, by one when it
// leaves a load; and it gets from quarantine to the crib by an inspection only.
func TestMandrel_AnyOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limits := crib.Limits{Recoat: rapid.IntRange(0, 4).Draw(t, "recoat"), Inspection: rapid.IntRange(0, 6).Draw(t, "inspection")}
		m := crib.Mandrel{ID: "B-1", Type: "B", Place: crib.InCrib}
		seen := true // it has been looked at since it was last in quarantine
		step := func(t *rapid.T) {
			o := anyOrder(t)
			can := slices.Contains(m.Possible(limits), o.Move)
			after, err := m.Do(o, limits)
			var refusal *crib.Refusal
			switch {
			case can && err != nil, !can && !errors.As(err, &refusal), !can && after != m:
				t.Fatalf("%+v, %s: possible %v, got %v", m, o.Move, can, err)
			case !can:
				return
			}
			counted := after.All - m.All
			if (counted == 1) != (m.Place == crib.Issued && !o.Unused) || counted < 0 || counted > 1 {
				t.Fatalf("%s from %s counted %d cycles", o.Move, m.Place, counted)
			}
			seen = after.Place != crib.Quarantine && (seen || after.Place == crib.Inspection)
			m = after
		}
		t.Repeat(map[string]func(*rapid.T){
			"step": step,
			"": func(t *rapid.T) {
				if !m.Place.Known() || (m.Load != "") != (m.Place == crib.Issued) {
					t.Fatalf("%+v is nowhere, or at a load that it is not issued to", m)
				}
				if m.SinceRecoat > m.All || m.SinceInspection > m.All {
					t.Fatalf("more cycles since than in all: %+v", m)
				}
				if m.Place == crib.InCrib && !seen {
					t.Fatal("it came from quarantine to the crib unseen")
				}
			},
		})
	})
}

// anyOrder draws an order without problems of its own.
func anyOrder(t *rapid.T) crib.Order {
	o := crib.Order{Move: rapid.SampledFrom(crib.Moves()).Draw(t, "move"), At: noon, Remark: "so"}
	switch o.Move {
	case crib.Issue:
		o.Load = "L1"
	case crib.Return:
		o.Unused, o.Damaged = rapid.Bool().Draw(t, "unused"), rapid.Bool().Draw(t, "damaged")
	case crib.Recoat:
		o.Until = noon.Add(time.Hour)
	}
	if problems := o.Problems(); len(problems) > 0 {
		t.Fatal(problems)
	}
	return o
}

// What a shop file says of a mandrel reads as a place from which the same is
// said again.
func TestPlaceOf_WordOf(t *testing.T) {
	for _, test := range []struct {
		state string
		later bool
		want  crib.Place
		again string
	}{
		{"ready", false, crib.InCrib, "ready"},
		{"ready", true, crib.Cleaning, "ready"},
		{"recoating", false, crib.Recoating, "recoating"},
		{"inspection", false, crib.Inspection, "inspection"},
		{"quarantine", false, crib.Quarantine, "quarantine"},
		{"regrind", false, crib.Regrind, "regrind"},
		{"scrapped", false, crib.Scrapped, "scrapped"},
		{"lent to a friend", false, crib.Quarantine, "quarantine"},
	} {
		m := crib.Mandrel{Place: crib.PlaceOf(test.state, test.later)}
		if test.later {
			m.Back = noon
		}
		if again, back := m.WordOf(crib.Limits{}); m.Place != test.want || again != test.again || back != test.later {
			t.Errorf("%s: reads as %s, says %s, back %v", test.state, m.Place, again, back)
		}
	}
}

// A plan may count on a mandrel when it is in the crib, on a released load, or
// known to come back, and will then not be due.
func TestMandrel_WordOf(t *testing.T) {
	limits := crib.Limits{Recoat: 50}
	worn := crib.Cycles{All: 50, SinceRecoat: 50}
	last := crib.Cycles{All: 49, SinceRecoat: 49}
	for _, test := range []struct {
		name    string
		mandrel crib.Mandrel
		want    string
		back    bool
	}{
		{"due", crib.Mandrel{Place: crib.InCrib, Cycles: worn}, "due", false},
		{"on a released load", crib.Mandrel{Place: crib.Issued, Load: "L1", Back: noon}, "ready", false},
		{"on other work, back then", crib.Mandrel{Place: crib.Issued, Back: noon}, "ready", true},
		{"on other work, back due", crib.Mandrel{Place: crib.Issued, Back: noon, Cycles: last}, "issued", false},
		{"nobody knows when", crib.Mandrel{Place: crib.Cleaning}, "cleaning", false},
		{"back due from cleaning", crib.Mandrel{Place: crib.Cleaning, Back: noon, Cycles: worn}, "cleaning", false},
		{"back as new from recoating", crib.Mandrel{Place: crib.Recoating, Back: noon, Cycles: worn}, "ready", true},
	} {
		if word, back := test.mandrel.WordOf(limits); word != test.want || back != test.back {
			t.Errorf("%s: %s, %v; want %s, %v", test.name, word, back, test.want, test.back)
		}
	}
}
