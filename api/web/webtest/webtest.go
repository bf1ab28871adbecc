// Package webtest gives tests of pages and drawings something to show: the
// demo's shop with a plan, the same with hostile names, and a full day of a season. Only tests import
// it.
package webtest

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// TernPoint returns the demo's shop and a plan of it.
func TernPoint(t testing.TB) (*shop.Shop, *plan.Plan) {
	t.Helper()
	return parse(t, read(t, "tern-point.json.gz"), read(t, "tern-point.plan.json.gz"))
}

// Hostile returns the same with every name and id turned into what a page must
// not take for markup.
func Hostile(t testing.TB) (*shop.Shop, *plan.Plan) {
	t.Helper()
	return parse(t, poison(t, read(t, "tern-point.json.gz")), poison(t, read(t, "tern-point.plan.json.gz")))
}

// Season returns a shop of ten thousand pieces in a busy season, what a plan of it
// has in work on its fullest day, and that day.
func Season(t testing.TB) (*shop.Shop, *plan.Plan, shop.Date) {
	t.Helper()
	s, p := parse(t, read(t, "season.json.gz"), read(t, "season-day.plan.json.gz"))
	var date shop.Date
	if err := date.UnmarshalText([]byte("2028-10-23")); err != nil {
		t.Fatal(err)
	}
	return s, p, date
}

// Day returns the plan's first day with work.
func Day(t testing.TB, s *shop.Shop, p *plan.Plan) *sheet.Day {
	t.Helper()
	date, ok := sheet.Next(s, p)
	if !ok {
		t.Fatal("the plan has no day with work")
	}
	return sheet.Of(s, p, date)
}

// Poison is what Hostile adds to each name.
const Poison = `"'><script>alert(1)</script>&amp;</title>名`

func parse(t testing.TB, shopFile, planFile []byte) (*shop.Shop, *plan.Plan) {
	t.Helper()
	s, err := shop.Read(shopFile)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Read(planFile, s)
	if err != nil {
		t.Fatal(err)
	}
	return s, p
}

func read(t testing.TB, name string) []byte {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	packed, err := os.ReadFile(filepath.Join(filepath.Dir(here), "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	unpacked, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(unpacked)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// kept are the fields whose texts are no names.
var kept = []string{
	"format", "timezone", "now", "kind", "due", "stage", "state", "start", "end", "in", "out", "cure_start", "cure_end", "at",
	"from", "to", "expires", "ready_at", "done_at", "busy_until", "weekly", "exceptions",
}

func poison(t testing.TB, file []byte) []byte {
	t.Helper()
	var tree any
	if err := json.Unmarshal(file, &tree); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(poisoned("", tree))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func poisoned(key string, value any) any {
	switch value := value.(type) {
	case string:
		if slices.Contains(kept, key) || key == "resource" && !strings.HasPrefix(value, "oven:") {
			return value
		}
		return value + Poison
	case []any:
		for i := range value {
			value[i] = poisoned(key, value[i])
		}
	case map[string]any:
		out := map[string]any{}
		for name, inner := range value {
			if key == "calendars" {
				out[name+Poison] = poisoned("", inner)
				continue
			}
			out[name] = inner
			if !slices.Contains(kept, name) {
				out[name] = poisoned(name, inner)
			}
		}
		return out
	}
	return value
}
