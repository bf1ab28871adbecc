package schema_test

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/danielgtaylor/huma/v2"
	"github.com/getkin/kin-openapi/openapi3"

	"blankwright/api/rest/schema"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/strict"
)

// The document takes a thing, whole or spoilt in one place, exactly where the
// reader of its form does: a client that keeps to the document is not refused
// for form, and one that does not is. What form a text has is left to the
// reader.
func TestSchema_AsStrict(t *testing.T) {
	tried := 0
	s := shoptest.Make(3, shoptest.Size{Products: 2, Lines: 2})
	for _, thing := range []any{
		s.Policy, s.Crews, s.Stations, s.Resins, s.Tapes, s.Prepregs, s.Profiles, s.Ovens, s.Racks, s.MandrelTypes,
		s.Products, s.Incoming, s.Downtime, s.Calendars, s.Demand, s.Supply, s.Mandrels,
	} {
		tried += compare(t, thing)
	}
	if tried < 1000 {
		t.Errorf("only %d places tried", tried)
	}
}

// compare spoils a value in each place, and holds the document against the
// reader. It returns how many places it tried.
func compare(t *testing.T, value any) (tried int) {
	t.Helper()
	form := reflect.TypeOf(value)
	schema := readSchema(t, schema.Of(form))
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	var whole any
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	into := reflect.StructOf([]reflect.StructField{{Name: "Value", Type: form, Tag: `json:"value,omitempty"`}})
	spoil(whole, func(v any) { whole = v }, map[string]bool{}, form.Name(), func(place string) {
		tried++
		text, err := json.Marshal(map[string]any{"value": whole})
		if err != nil {
			t.Fatal(err)
		}
		said := schema.VisitJSON(whole, openapi3.EnableJSONSchema2020())
		read := strict.Read(text, reflect.New(into).Interface()).Err()
		if whole != nil && (said == nil) != (read == nil) {
			t.Errorf("%s %s: the document says %v, the reader %v", form, place, said, read)
		}
	})
	return tried
}

func readSchema(t *testing.T, from *huma.Schema) *openapi3.Schema {
	t.Helper()
	text, err := json.Marshal(from)
	if err != nil {
		t.Fatal(err)
	}
	schema := &openapi3.Schema{}
	if err := json.Unmarshal(text, schema); err != nil {
		t.Fatal(err)
	}
	return schema
}

// spoil puts one wrong thing after the other in each place of a value, once
// for each place of its kind, and calls try for each.
func spoil(v any, put func(any), done map[string]bool, kind string, try func(place string)) {
	if done[kind] {
		return
	}
	done[kind] = true
	for name, wrong := range map[string]any{
		"null": nil, "true": true, "a list": []any{}, "an object": map[string]any{}, "a long way down": -2e9, "-1": -1.0, "0.5": 0.5, "nothing": "",
	} {
		if _, text := v.(string); text && name == "nothing" && formed(v.(string)) {
			continue
		}
		put(wrong)
		try(kind + " is " + name)
	}
	put(v)
	switch v := v.(type) {
	case map[string]any:
		v["frob"] = 1.0
		try(kind + " has frob")
		delete(v, "frob")
		for _, name := range slices.Sorted(maps.Keys(v)) {
			was := v[name]
			delete(v, name)
			try(kind + " lacks " + name)
			v[name] = was
			spoil(was, func(w any) { v[name] = w }, done, kind+"."+name, try)
		}
	case []any:
		for i := range v {
			spoil(v[i], func(w any) { v[i] = w }, done, kind+"[]", try)
		}
	}
}

// formed reports whether a text is an instant, a date or a clock time, which
// are never empty.
func formed(text string) bool { return len(text) > 4 && text[0] >= '0' && text[0] <= '9' }
