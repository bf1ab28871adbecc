package shop_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/strict"
)

// yard returns a small invented shop that uses every field of the format.
func yard(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/yard.json")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// edited returns yard with the first old text after the text that begins with
// within replaced.
func edited(t testing.TB, within, old, new string) []byte {
	t.Helper()
	before, after, found := strings.Cut(string(yard(t)), within)
	if !found || !strings.Contains(after, old) {
		t.Fatalf("the yard has no %q after %q", old, within)
	}
	return []byte(before + within + strings.Replace(after, old, new, 1))
}

func problems(t testing.TB, data []byte) strict.Problems {
	t.Helper()
	_, err := shop.Read(data)
	var all strict.Problems
	if err != nil && !errors.As(err, &all) {
		t.Fatalf("the error is a %T, not strict.Problems", err)
	}
	return all
}

// readsBack fails unless an accepted file is written so that it reads back the
// same and is written the same again.
func readsBack(t testing.TB, s *shop.Shop) {
	t.Helper()
	written := s.Encode()
	again, err := shop.Read(written)
	if err != nil {
		t.Fatalf("what was written is refused:\n%v\n%s", err, written)
	}
	if diff := cmp.Diff(s, again); diff != "" {
		t.Errorf("reads back differently (-want +got):\n%s", diff)
	}
	if !bytes.Equal(written, again.Encode()) {
		t.Error("is written differently the second time")
	}
}

// Every field arrives at its place, with instants' offsets.
func TestRead_Yard(t *testing.T) {
	s, err := shop.Read(yard(t))
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, s)
	ready := "M01"
	if diff := cmp.Diff([]*string{nil, &ready}, s.Stations.Tack.LastSetup); diff != "" {
		t.Errorf("last set-up (-want +got):\n%s", diff)
	}
	if got := s.Supply[0].Expires; got.Offset != 60 || got.String() != "2027-06-14T06:00:00+01:00" {
		t.Errorf("expires is %s", got)
	}
	if diff := cmp.Diff([]shop.Window{{7 * 60, 11*60 + 30}, {12 * 60, 15*60 + 30}}, s.Calendars["floor"].Weekly.Mon); diff != "" {
		t.Errorf("windows (-want +got):\n%s", diff)
	}
	day, _ := s.Calendars["floor"].Exceptions[date(t, "2026-12-01")]
	if len(s.Calendars["floor"].Exceptions) != 2 || len(day) != 0 {
		t.Errorf("exceptions are %v", s.Calendars["floor"].Exceptions)
	}
}

// The shops that stand beside the contract are read.
func TestRead_ContractShops(t *testing.T) {
	files, _ := filepath.Glob("../../../shared/shops/*.json")
	if len(files) == 0 {
		t.Skip("no shops beside the project")
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s, err := shop.Read(data)
		if err != nil {
			t.Errorf("%s is refused:\n%v", filepath.Base(file), err)
			continue
		}
		readsBack(t, s)
	}
}

// Shops that tests make read back the same.
func TestRead_MadeShops(t *testing.T) {
	for seed := range uint64(50) {
		s, err := shop.Read(shoptest.Make(seed, shoptest.Size{}).Encode())
		if err != nil {
			t.Fatalf("shop %d is refused:\n%v", seed, err)
		}
		readsBack(t, s)
	}
}

// What the contract allows is read, however odd it looks.
func TestRead_Allows(t *testing.T) {
	for _, c := range []struct{ why, within, old, new string }{
		{"a key set up last that the file no longer knows", `"cut"`, `["UD"]`, `["old stock"]`},
		{"more last set-ups than positions", `"cut"`, `["UD"]`, `["UD", null, "UD"]`},
		{"null for an optional field", `"cut"`, `["UD"]`, `null`},
		{"people without a crew", `"cut"`, `"crew": "hands", `, ``},
		{"a crew without people", `"cut"`, `"people": 1, `, ``},
		{"cold air", `"policy"`, `"ambient_c": 20`, `"ambient_c": -5.5`},
		{"an exponent in a decimal", `"policy"`, `"gap_mm": 6`, `"gap_mm": 6e0`},
		{"a supply of none", `"supply"`, `7.5`, `0`},
		{"a supply that expires before it comes", `"supply"`, `2026-11-23`, `2028-11-23`},
		{"any state of a mandrel", `"mandrels"`, `"ready"`, `"lost"`},
		{"any profile", `"P1-tip"`, `["C125"]`, `[]`},
		{"a null list", `"P1-tip"`, `["C125"]`, `null`},
		{"an oven without profiles", `"ovens"`, `["C125"]`, `[]`},
		{"windows that overlap", `"tue"`, `[["07:00","15:30"]]`, `[["07:00","15:30"],["08:00","16:00"]]`},
		{"complete without order", `"D1"`, `"order": "O1", `, ``},
		{"pieces on the horizon", `"incoming"`, `"2026-12-10T00:00:00Z"`, `"2026-12-10T01:00:00+01:00"`},
		{"an instant with a fraction of nought", `"now"`, `06:00:00Z`, `06:00:00.000Z`},
		{"no racks of a type", `"racks"`, `"count": 2`, `"count": 1`},
		{"a released load beyond its set-up's levels", `"released"`, `[[{`, `[[],[],[{`},
		{"downtime for no reason", `"downtime"`, `"door seal"`, `""`},
		{"a released task of no pieces", `"tasks"`, `"pieces": 2`, `"pieces": 0`},
	} {
		t.Run(c.why, func(t *testing.T) { readsBack(t, mustRead(t, edited(t, c.within, c.old, c.new))) })
	}
}

func mustRead(t testing.TB, data []byte) *shop.Shop {
	t.Helper()
	s, err := shop.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Each breach of the contract's forms is refused at its place.
func TestRead_Refuses(t *testing.T) {
	for _, c := range refusals {
		want := strict.Problems{{Path: c.path, Message: c.message}}
		if diff := cmp.Diff(want, problems(t, edited(t, c.within, c.old, c.new))); diff != "" {
			t.Errorf("%s instead of %s (-want +got):\n%s", c.new, c.old, diff)
		}
	}
}

// A file that is wrong in form and in meaning tells both, in its own order,
// and nothing that only follows from what could not be read.
func TestRead_AllAtOnce(t *testing.T) {
	data := edited(t, `"calendars"`, `"floor"`, `"flor"`)
	for _, edit := range [][2]string{
		{`"now": "2026-11-26T06:00:00Z"`, `"now": "today"`},
		{`"id": "M01", "hang_mm"`, `"id": 1, "hang_mm"`},
		{`"kind": "restock"`, `"kind": "gift", "colour": "red"`},
	} {
		data = bytes.Replace(data, []byte(edit[0]), []byte(edit[1]), 1)
	}
	const known = `no calendar "floor"; there are always, closed, flor`
	want := strict.Problems{
		{Path: "now", Message: `"today" is no instant, which is RFC 3339 on a whole minute, as 2026-11-26T06:00:00+00:00`},
		{Path: "policy.shipping_calendar", Message: known},
		{Path: "crews[0].shifts[0].calendar", Message: known},
		{Path: "stations.cut.calendar", Message: known},
		{Path: "stations.tack.calendar", Message: known},
		{Path: "stations.roll.calendar", Message: known},
		{Path: "stations.wrap.calendar", Message: known},
		{Path: "stations.pull.calendar", Message: known},
		{Path: "stations.strip.calendar", Message: known},
		{Path: "stations.trim.calendar", Message: known},
		{Path: "mandrel_types[0].id", Message: "is a number, not text"},
		{Path: "demand[1].kind", Message: `is "gift", not "order" or "restock"`},
		{Path: "demand[1].colour", Message: "is unknown; the fields here are id, kind, product, quantity, due, weight, order, complete"},
	}
	if diff := cmp.Diff(want, problems(t, data)); diff != "" {
		t.Errorf("problems (-want +got):\n%s", diff)
	}
}

// A text that is no shop at all has one problem, not one for each rule.
func TestRead_NoShop(t *testing.T) {
	for _, c := range []struct{ data, message string }{
		{``, "line 1, column 1: no JSON: unexpected end of JSON input"},
		{`[]`, "is a list, not an object"},
		{string(yard(t)) + "{}", "line 73, column 1: no JSON: invalid character '{' after top-level value"},
	} {
		if diff := cmp.Diff(strict.Problems{{Message: c.message}}, problems(t, []byte(c.data))); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
}
