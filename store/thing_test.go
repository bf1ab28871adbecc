package store_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

// thing returns a thing of books.
func thing(t *testing.T, b *store.Books, kind, id string) store.Thing {
	t.Helper()
	got, err := b.Thing(t.Context(), kind, id)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// Every kind has its things, each can be put as it is, and that changes
// nothing.
func TestPutThing_AsItIs(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	if _, err := b.PutThing(t.Context(), "downtime", "1", []byte(spareDown), 0); err != nil {
		t.Fatal(err)
	}
	before := len(notes(t, b))
	for _, kind := range store.Kinds() {
		all, err := b.Things(t.Context(), kind)
		if err != nil {
			t.Fatal(err)
		}
		for _, was := range all[:min(len(all), 3)] {
			got, err := b.PutThing(t.Context(), kind, was.ID, was.Body, was.Rev)
			if err != nil {
				t.Errorf("%s %s: %v", kind, was.ID, err)
			}
			if diff := cmp.Diff(was, got); diff != "" {
				t.Errorf("%s %s (-was +is):\n%s", kind, was.ID, diff)
			}
		}
	}
	if after := len(notes(t, b)); after != before {
		t.Errorf("%d entries more on the trail", after-before)
	}
}

// A change is there with its next revision, and on the trail.
func TestPutThing(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	was := thing(t, b, "oven", "spare")
	body := strings.Replace(string(was.Body), `"bays": 1`, `"bays": 3`, 1)
	got, err := b.PutThing(store.WithActor(t.Context(), "ann"), "oven", "spare", []byte(body), was.Rev)
	if err != nil || got.Rev != was.Rev+1 || string(got.Body) != body {
		t.Fatalf("put: %+v, %v", got, err)
	}
	if bays := exported(t, b).Ovens[1].Bays; bays != 3 {
		t.Errorf("the spare oven has %d bays", bays)
	}
	all, err := b.Trail(t.Context(), store.TrailFilter{Kind: "oven", Of: "spare"})
	if err != nil || len(all) != 1 {
		t.Fatalf("%d entries, %v", len(all), err)
	}
	if e := all[0]; e.Actor != "ann" || e.What != "changed" ||
		!strings.Contains(string(e.From), `"bays":1`) || !strings.Contains(string(e.To), `"bays":3`) {
		t.Errorf("the entry is %+v", e)
	}
}

// Who saw another revision is refused, and so is who makes what is there.
func TestPutThing_Stale(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	was := thing(t, b, "tape", "tape")
	tests := []struct {
		name, id string
		rev      int64
		want     error
	}{
		{"newer", "tape", was.Rev + 1, store.ErrStale},
		{"must be new", "tape", store.MustBeNew, store.ErrConflict},
		{"gone", "other", 1, store.ErrNotFound},
		{"seen", "tape", was.Rev, nil},
		{"unchecked", "tape", 0, nil},
	}
	for _, test := range tests {
		body := strings.Replace(string(was.Body), `"tape"`, `"`+test.id+`"`, 1)
		if _, err := b.PutThing(t.Context(), "tape", test.id, []byte(body), test.rev); !errors.Is(err, test.want) {
			t.Errorf("put %s: %v, want %v", test.name, err, test.want)
		}
	}
	if err := b.RemoveThing(t.Context(), "tape", "tape", was.Rev+1); !errors.Is(err, store.ErrStale) {
		t.Errorf("removed: %v", err)
	}
}

// All that is wrong with a thing is told at once, from the thing; what it
// breaks elsewhere is told from the shop; and nothing is changed.
func TestPutThing_Problems(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	before := string(export(t, b))
	tests := []struct {
		name, kind, id, body string
		want                 []string // paths
	}{
		{"no JSON", "tape", "t", `{"id": `, []string{""}},
		{"no UTF-8", "tape", "t", "{\"id\": \"\xff\"}", []string{""}},
		{"no object", "tape", "t", `[1]`, []string{""}},
		{
			"form and reference", "oven", "new", `{"id": "new", "bays": 0, "height_mm": "tall", "max_kg": 1, "profiles": ["cure", "none"],
			"calendar": "never", "load_minutes": 1, "unload_minutes": 1, "run_cost": 0, "hour_cost": 0, "doors": 2}`,
			[]string{"bays", "height_mm", "profiles[1]", "calendar", "doors"},
		},
		{"no id", "downtime", "", spareDown, []string{"id"}},
		{"odd id", "calendar", " a\n", `{}`, []string{"id", "id"}},
		{"other id", "tape", "t", `{"id": "u", "shrink_from_c": 1, "max_c": 2}`, []string{"id"}},
		{
			"own id twice", "product", "NEW", `{"id": "NEW", "name": "n", "finish_days": 0, "stock": 3, "sections": []}`,
			[]string{"sections", "stock"},
		},
		{
			"section of another", "product", "ONE", strings.ReplaceAll(string(thing(t, b, "product", "ONE").Body), "ONE-A", "TWO-B"),
			[]string{"shop.products[1].sections[1].id"},
		},
		{"closed for ever", "calendar", "always", `{}`, []string{"shop.policy.shipping_calendar"}},
		{"settings", "settings", "settings", `{"name": "", "timezone": "UTC", "horizon_days": 0}`, []string{"name", "horizon_days"}},
		{"zone", "settings", "settings", `{"name": "n", "timezone": "Nowhere/At_All", "horizon_days": 1}`, []string{"timezone"}},
		{"policy", "policy", "policy", `{"gap_mm": -1}`, []string{
			"ambient_c", "max_green_minutes", "transfer_pieces", "shipping_calendar", "late_cost", "hold_cost", "labour_cost", "unplanned_days", "gap_mm",
		}},
		{"station", "station", "tack", `{"positions": 1, "calendar": "never", "setup_minutes": 0}`, []string{"calendar"}},
		{"downtime", "downtime", "x", strings.Replace(spareDown, "oven:spare", "oven:none", 1), []string{"resource"}},
	}
	for _, test := range tests {
		_, err := b.PutThing(t.Context(), test.kind, test.id, []byte(test.body), 0)
		var problems strict.Problems
		if !errors.As(err, &problems) {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		var paths []string
		for _, p := range problems {
			paths = append(paths, p.Path)
		}
		if diff := cmp.Diff(test.want, paths); diff != "" {
			t.Errorf("%s: %v\npaths (-want +got):\n%s", test.name, err, diff)
		}
	}
	if diff := cmp.Diff(before, string(export(t, b))); diff != "" {
		t.Errorf("the shop has changed:\n%s", diff)
	}
}

// A thing goes when nothing needs it, and stays when something does.
func TestRemoveThing(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	tests := []struct {
		kind, id string
		want     string // of the error
	}{
		{"oven", "spare", ""},
		{"oven", "spare", `there is no oven "spare"`},
		{"profile", "long", ""}, // the spare oven, which had it, is gone
		{"profile", "cure", `shop.ovens[0].profiles[0]: no profile "cure"; there are none`},
		{"calendar", "always", `shop.policy.shipping_calendar: no calendar "always"`},
		{"station", "tack", "can be changed, not removed"},
		{"policy", "policy", "can be changed, not removed"},
		{"settings", "settings", "can be changed, not removed"},
		{"hat", "x", `there is no kind of thing "hat"`},
	}
	for _, test := range tests {
		err := b.RemoveThing(t.Context(), test.kind, test.id, 0)
		if got := fmt.Sprint(err); (err == nil) != (test.want == "") || !strings.Contains(got, test.want) {
			t.Errorf("%s %s: %s, want %q", test.kind, test.id, got, test.want)
		}
	}
	s := exported(t, b)
	if len(s.Ovens) != 1 || len(s.Profiles) != 1 {
		t.Errorf("%d ovens and %d profiles are left", len(s.Ovens), len(s.Profiles))
	}
}

// What is new stands at the end of its list; empty books have no lists.
func TestPutThing_New(t *testing.T) {
	empty, _ := storetest.Open(t)
	if _, err := empty.PutThing(t.Context(), "crew", "c", []byte(`{"id": "c"}`), 0); !errors.Is(err, store.ErrConflict) {
		t.Errorf("put into empty books: %v", err)
	}
	b, _ := storetest.OpenYard(t)
	for i, id := range []string{"night", "day", "a.b [c]"} {
		body := fmt.Sprintf(`{"weekly": {"mon": [["0%d:00", "10:00"]]}}`, i)
		if _, err := b.PutThing(t.Context(), "calendar", id, []byte(body), store.MustBeNew); err != nil {
			t.Error(err)
		}
		body = fmt.Sprintf(`{"id": %q, "shifts": [{"calendar": %q, "people": 2}]}`, id, id)
		if _, err := b.PutThing(t.Context(), "crew", id, []byte(body), store.MustBeNew); err != nil {
			t.Error(err)
		}
	}
	var crews []string
	for _, c := range exported(t, b).Crews {
		crews = append(crews, c.ID)
	}
	if diff := cmp.Diff([]string{"night", "day", "a.b [c]"}, crews); diff != "" {
		t.Errorf("crews (-want +got):\n%s", diff)
	}
	_, err := b.PutThing(t.Context(), "calendar", "a.b [c]", []byte(`{"weekly": {"mon": [["10:00", "09:00"]]}}`), 0)
	var problems strict.Problems
	if !errors.As(err, &problems) || problems[0].Path != "weekly.mon[0]" {
		t.Errorf("a calendar that ends before it begins: %v", err)
	}
	catalog, err := b.Catalog(t.Context())
	if err != nil || len(catalog.Crews) != 3 || len(catalog.Calendars) != 4 {
		t.Errorf("the catalog: %v", err)
	}
}
