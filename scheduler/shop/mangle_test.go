package shop_test

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// wrong are values of which each is out of place somewhere.
func wrong() []any {
	return []any{nil, true, 0, -1, 0.5, 1e300, "", "x", "UD", "2026-11-26", "9999-12-30T00:00:00Z", []any{}, map[string]any{}, []any{nil}, []any{"x"}, []any{[]any{}}}
}

// A slot is one place in a JSON value, and how to change what it holds.
type slot struct {
	set    func(any)
	remove func()
}

// slots lists every place in a JSON value, in a fixed order.
func slots(value any) []slot {
	var all []slot
	switch v := value.(type) {
	case []any:
		for i := range v {
			set := func(x any) { v[i] = x }
			all = append(append(all, slot{set, func() { set(nil) }}), slots(v[i])...)
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			all = append(append(all, slot{func(x any) { v[name] = x }, func() { delete(v, name) }}), slots(v[name])...)
		}
	}
	return all
}

// A file in which anything stands anywhere is refused with problems that have
// paths, or can be written and read again; no rule trips over what is half read.
func TestRead_Mangled(t *testing.T) {
	original := yard(t)
	rapid.Check(t, func(t *rapid.T) {
		var tree any
		if err := json.Unmarshal(original, &tree); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			at := rapid.SampledFrom(slots(tree)).Draw(t, "slot")
			if rapid.Bool().Draw(t, "remove") {
				at.remove()
				continue
			}
			at.set(rapid.SampledFrom(wrong()).Draw(t, "value"))
		}
		data, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		s, err := shop.Read(data)
		if err == nil {
			if _, err := shop.Read(s.Encode()); err != nil {
				t.Fatalf("what was written is refused:\n%v", err)
			}
			return
		}
		var all strict.Problems
		if !errors.As(err, &all) || len(all) == 0 {
			t.Fatalf("refused without problems: %v", err)
		}
		for _, p := range all {
			if p.Path == "" || p.Message == "" {
				t.Fatalf("a problem says nothing of its place or nature: %q", p)
			}
		}
	})
}
