package plan_test

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

func file(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// yard returns the small invented shop that the tests of package shop read.
func yard(t testing.TB) *shop.Shop {
	t.Helper()
	s, err := shop.Read(file(t, "../shop/testdata/yard.json"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// answer returns a plan file for the yard. It keeps the form of a plan file,
// and few of the rules.
func answer(t testing.TB) []byte { return file(t, "testdata/yard.json") }

// edited returns the answer with the first old text after within replaced.
func edited(t testing.TB, within, old, new string) []byte {
	t.Helper()
	before, after, found := strings.Cut(string(answer(t)), within)
	if !found || !strings.Contains(after, old) {
		t.Fatalf("the answer has no %q after %q", old, within)
	}
	return []byte(before + within + strings.Replace(after, old, new, 1))
}

func readsBack(t testing.TB, p *plan.Plan, s *shop.Shop) {
	t.Helper()
	written := p.Encode()
	again, err := plan.Read(written, s)
	if err != nil {
		t.Fatalf("what was written is refused:\n%v\n%s", err, written)
	}
	if diff := cmp.Diff(p, again); diff != "" {
		t.Errorf("reads back differently (-want +got):\n%s", diff)
	}
	if !bytes.Equal(written, again.Encode()) {
		t.Error("is written differently the second time")
	}
}

// A file in canonical form is read, and written as it was to the byte.
func TestRead_Canonical(t *testing.T) {
	p, err := plan.Read(answer(t), yard(t))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(answer(t)), string(p.Encode())); diff != "" {
		t.Errorf("is written otherwise (-want +got):\n%s", diff)
	}
}

// A plan that nothing has been put into is written with its empty lists.
func TestEncode_Empty(t *testing.T) {
	s := yard(t)
	empty := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now}
	readsBack(t, empty, s)
	for _, list := range []string{`"loads": []`, `"tasks": []`, `"allocations": []`} {
		if !strings.Contains(string(empty.Encode()), list) {
			t.Errorf("%s is not in\n%s", list, empty.Encode())
		}
	}
}

// What breaks a rule but keeps the form is read: rules are the checker's.
func TestRead_Allows(t *testing.T) {
	for _, c := range []struct{ why, within, old, new string }{
		{"null for an absent prepreg", `"tack"`, `"position"`, `"prepreg": null, "position"`},
		{"null for an empty list", `"racks"`, `[],`, `null,`},
		{"an instant in another offset", `"now"`, `"2026-11-26T06:00:00Z"`, `"2026-11-26T08:00:00+02:00"`},
		{"a position that is not there (R6)", `"tack"`, `"position": 1`, `"position": 99`},
		{"no pieces (R3)", `"racks"`, `"pieces": 2`, `"pieces": 0`},
		{"a negative bound", `"bound"`, `20`, `-20`},
		{"a cost far beyond other numbers", `"cost"`, `161.5833`, `161583300000000`},
		{"one level more than the set-up has (R3)", `"levels"`, `[],`, `[],[],`},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := yard(t)
			p, err := plan.Read(edited(t, c.within, c.old, c.new), s)
			if err != nil {
				t.Fatal(err)
			}
			readsBack(t, p, s)
		})
	}
}

// Each change that breaks the form is refused at its place.
func TestRead_Refuses(t *testing.T) {
	for _, c := range refusals {
		_, err := plan.Read(edited(t, c.within, c.old, c.new), yard(t))
		want := strict.Problems{{Path: c.path, Message: c.message}}
		if diff := cmp.Diff(error(want), err); diff != "" {
			t.Errorf("%s instead of %s (-want +got):\n%s", c.new, c.old, diff)
		}
	}
}

var refusals = []struct{ within, old, new, path, message string }{
	{`{`, `plan/1`, `plan/2`, "format", `is "blankwright/plan/2", not "blankwright/plan/1"`},
	{`"shop"`, `Tern Point`, `Ern Point`, "shop", `is "Ern Point (invented)", but this shop is "Tern Point (invented)"`},
	{`"now"`, `06:00`, `06:01`, "now", "is 2026-11-26T06:01:00Z, but this shop's is 2026-11-26T06:00:00Z"},
	{`"loads"`, `"OV1"`, `"OV2"`, "loads[0].oven", `no oven "OV2"; there are OV1`},
	{`"loads"`, `"C125"`, `"C1"`, "loads[0].profile", `no profile "C1"; there are C125`},
	{`"loads"`, `"long"`, `"wide"`, "loads[0].racks[0].rack", `no rack "wide"; there are long`},
	{`"loads"`, `"two"`, `"six"`, "loads[0].racks[0].setup", `no set-up "six"; there are one, two`},
	{`"loads"`, `"P1-tip"`, `"P1"`, "loads[0].racks[0].levels[1][0].section", `no section "P1"; there are P1-tip, P1-butt`},
	{`"loads"`, `"pieces": 2`, `"pieces": 2.0`, "loads[0].racks[0].levels[1][0].pieces", "2.0 is no whole number, which has neither fraction nor exponent"},
	{`"loads"`, `"pieces": 2`, `"pieces": 4611686018427387904`, "loads[0].racks[0].levels[1][0].pieces", "is 4611686018427387904, but must be at most 1000000000"},
	{
		`"loads"`, "[\n  {", "[\n  {\"id\": \"L0\", \"oven\": \"OV1\", \"profile\": \"C125\", \"in\": \"2026-11-26T01:00:00Z\", \"cure_start\": \"2026-11-26T01:00:00Z\", \"cure_end\": \"2026-11-26T01:00:00Z\", \"out\": \"2026-11-26T01:00:00Z\"}, {",
		"loads[1].id", `"L0" is already the id at loads[0].id`,
	},
	{`"tasks"`, `"L0"`, `"L1"`, "tasks[0].load", `no load "L1"; there are L0`},
	{`"tasks"`, `"P1-tip"`, `"P2"`, "tasks[0].section", `no section "P2"; there are P1-tip, P1-butt`},
	{`"tasks"`, `"cut"`, `"cure"`, "tasks[0].stage", `"cure" is no stage, which is one of cut, tack, roll, wrap, pull, strip, trim`},
	{`"tasks"`, `"prepreg": "UD", `, ``, "tasks[0].prepreg", "is missing: a cut task names the prepreg that it cuts"},
	{`"tasks"`, `"UD"`, `"X"`, "tasks[0].prepreg", `no prepreg "X"; there are UD, scrim`},
	{`"tasks"`, `"tack",`, `"tack", "prepreg": "UD",`, "tasks[1].prepreg", "stands on cut tasks only, and this is a tack task"},
	{`"tasks"`, `"setup": true`, `"setup": 1`, "tasks[0].setup", "is a number, not true or false"},
	{`"tasks"`, `"start"`, `"crew": "hands", "start"`, "tasks[0].crew", "is unknown; the fields here are load, section, stage, prepreg, position, pieces, setup, start, end"},
	{`"allocations"`, `"D1"`, `"D9"`, "allocations[0].line", `no line "D9"; there are D1, W1`},
	{`"allocations"`, `"sets": 1, `, ``, "allocations[0].sets", "is missing"},
	{`"cost"`, `120.5`, `"120.5"`, "cost.late", "is text, not a number"},
	{`"cost"`, `120.5`, `1e999`, "cost.late", "is 1e999, but must be at most 1000000000000000"},
	{`"bound"`, `, "gap": 0.8762`, ``, "bound.gap", "is missing"},
}

// All problems come at once, in the file's order.
func TestRead_AllAtOnce(t *testing.T) {
	data := edited(t, `"loads"`, `"OV1"`, `"OV2"`)
	data = bytes.Replace(data, []byte(`"sets": 1`), []byte(`"sets": "1"`), 1)
	data = bytes.Replace(data, []byte(`"shop": `), []byte(`"yard": `), 1)
	_, err := plan.Read(data, yard(t))
	var all strict.Problems
	if !errors.As(err, &all) {
		t.Fatalf("the error is %v", err)
	}
	want := strict.Problems{
		{Path: "shop", Message: "is missing"},
		{Path: "yard", Message: "is unknown; the fields here are format, shop, now, loads, tasks, allocations, cost, bound"},
		{Path: "loads[0].oven", Message: `no oven "OV2"; there are OV1`},
		{Path: "allocations[0].sets", Message: "is text, not a number"},
	}
	if diff := cmp.Diff(want, all); diff != "" {
		t.Errorf("problems (-want +got):\n%s", diff)
	}
}
