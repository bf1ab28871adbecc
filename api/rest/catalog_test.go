package rest_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// bare is a house whose books hold shoptest.Bare.
func bare(t *testing.T) *apitest.House {
	t.Helper()
	h := apitest.Open(t)
	h.Admin().Do("POST", "/import", shoptest.Bare().Encode()).Must(http.StatusNoContent)
	return h
}

type things struct {
	Items []struct {
		ID    string
		Rev   int64
		Value json.RawMessage
	}
}

// A thing is read, changed under the revision that was seen, made where it was
// not, and removed.
func TestCatalog(t *testing.T) {
	h := bare(t)
	planner := h.As(access.Planner)
	const at = "/catalog/tapes/tape"
	read := planner.Get(at).Must(http.StatusOK)
	etag := read.Header.Get("ETag")
	warm := strings.Replace(string(read.Text), "140", "150", 1)

	if p := planner.Do("PUT", at, warm).Must(http.StatusPreconditionRequired).Problem(); !strings.Contains(p.Detail, "If-None-Match: *") {
		t.Errorf("who would make a new one is told %q", p.Detail)
	}
	next := planner.With("If-Match", etag).Do("PUT", at, warm).Must(http.StatusOK).Header.Get("ETag")
	if next == etag {
		t.Error("a change keeps the ETag")
	}
	planner.With("If-Match", etag).Do("PUT", at, warm).Must(http.StatusPreconditionFailed)

	other := strings.Replace(warm, `"tape"`, `"other"`, 1)
	fresh := planner.With("If-None-Match", "*")
	fresh.Do("PUT", at, warm).Must(http.StatusConflict)
	fresh.Do("PUT", "/catalog/tapes/other", other).Must(http.StatusOK)
	var list things
	planner.Get("/catalog/tapes").Must(http.StatusOK).Into(&list)
	if len(list.Items) != 2 || list.Items[1].ID != "other" {
		t.Errorf("the list is %+v", list)
	}
	planner.With("If-Match", "*").Do("DELETE", at, nil).Must(http.StatusUnprocessableEntity) // a section needs it
	planner.With("If-Match", `"1"`).Do("DELETE", "/catalog/tapes/other", nil).Must(http.StatusNoContent)
	planner.Get("/catalog/tapes/other").Must(http.StatusNotFound)
}

// Things without an id of their own get one from the books.
func TestCatalog_Rows(t *testing.T) {
	h := bare(t)
	planner := h.As(access.Planner)
	answer := planner.Do("POST", "/catalog/downtime", map[string]string{
		"resource": "oven:oven", "from": "2027-03-02T08:00:00Z", "to": "2027-03-02T18:00:00Z", "why": "yearly test",
	}).Must(http.StatusCreated)
	at := strings.TrimPrefix(answer.Header.Get("Location"), "/api/v1")
	planner.Get(at).Must(http.StatusOK)
	planner.With("If-Match", answer.Header.Get("ETag")).Do("DELETE", at, nil).Must(http.StatusNoContent)
	bad := planner.Do("POST", "/catalog/downtime", map[string]string{
		"resource": "oven:none", "from": "2027-03-02T08:00:00Z", "to": "2027-03-01T18:00:00Z",
	}).Must(http.StatusUnprocessableEntity).Locations()
	if diff := cmp.Diff([]string{"body.why", "body.resource", "body.to"}, bad); diff != "" {
		t.Error(diff)
	}
}

// Every thing of a random shop is listed, read, and put back as it was, which
// changes nothing.
func TestCatalog_EveryKind(t *testing.T) {
	h := apitest.Open(t)
	s := shoptest.Accepted(shoptest.Make(0, shoptest.Size{Products: 3, Lines: 3}))
	h.Admin().Do("POST", "/import", s.Encode()).Must(http.StatusNoContent)
	planner := h.As(access.Planner)
	for _, plural := range []string{
		"calendars", "crews", "stations", "resins", "tapes", "prepregs", "profiles", "ovens", "racks",
		"mandrel-types", "products", "incoming", "downtime",
	} {
		var list things
		planner.Get("/catalog/" + plural).Must(http.StatusOK).Into(&list)
		for i, item := range list.Items {
			if i == 3 {
				break // more of the kind tell nothing more
			}
			at := "/catalog/" + plural + "/" + url.PathEscape(item.ID)
			etag := fmt.Sprintf(`"%d"`, item.Rev)
			if got := planner.With("If-Match", etag).Do("PUT", at, item.Value).Must(http.StatusOK).Header.Get("ETag"); got != etag {
				t.Errorf("%s: put back as it was, its ETag is %s, was %s", at, got, etag)
			}
		}
	}
	for _, only := range []string{"settings", "policy"} {
		answer := planner.Get("/catalog/" + only).Must(http.StatusOK)
		planner.With("If-Match", answer.Header.Get("ETag")).Do("PUT", "/catalog/"+only, answer.Text).Must(http.StatusOK)
	}
}

// What is wrong with a thing is told all at once, at its places; so is what it
// would break elsewhere.
func TestCatalog_Problems(t *testing.T) {
	h := bare(t)
	anyRev := h.As(access.Planner).With("If-Match", "*")
	tests := []struct {
		name, at, body string
		want           []string
	}{
		{"missing and unknown", "tapes/tape", `{"id": "tape", "frob": 1}`, []string{"body.shrink_from_c", "body.max_c", "body.frob"}},
		{"wrong types", "tapes/tape", `{"id": 1, "shrink_from_c": "hot", "max_c": []}`, []string{"body.id", "body.shrink_from_c", "body.max_c"}},
		{"out of range", "racks/rack", `{"id": "rack", "count": -1, "tare_kg": -1, "max_kg": 1e99, "setups": []}`, []string{"body.count", "body.tare_kg", "body.max_kg", "body.setups"}},
		{"another id", "tapes/tape", `{"id": "other", "shrink_from_c": 1, "max_c": 2}`, []string{"body.id"}},
		{"unknown reference", "ovens/oven", `{"id":"oven","bays":1,"height_mm":1,"max_kg":1,"profiles":["none"],"calendar":"never","load_minutes":1,"unload_minutes":1,"run_cost":0,"hour_cost":0}`, []string{"body.profiles[0]", "body.calendar"}},
		{"no JSON", "tapes/tape", `{"id": `, []string{"body"}},
		{"no object", "tapes/tape", `[]`, []string{"body"}},
		{"not UTF-8", "tapes/tape", "{\"id\": \"\xff\"}", []string{"body"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := anyRev.Do("PUT", "/catalog/"+test.at, test.body).Must(http.StatusUnprocessableEntity).Locations()
			missing := map[string]bool{}
			for _, location := range test.want {
				missing[location] = true
			}
			for _, location := range got {
				delete(missing, location)
			}
			if len(missing) > 0 {
				t.Errorf("told of %v, want %v", got, test.want)
			}
		})
	}
}

// A shop file that was exported and imported into other books is exported the
// same.
func TestExchange(t *testing.T) {
	s := shoptest.Accepted(shoptest.Make(7, shoptest.Size{}))
	first, second := apitest.Open(t), apitest.Open(t)
	first.Admin().Do("POST", "/import", s.Encode()).Must(http.StatusNoContent)
	out := first.Admin().Get("/export").Must(http.StatusOK).Text
	second.Admin().Do("POST", "/import", out).Must(http.StatusNoContent)
	if diff := cmp.Diff(string(out), string(second.Admin().Get("/export").Must(http.StatusOK).Text)); diff != "" {
		t.Error(diff)
	}
	if _, err := shop.Read(out); err != nil {
		t.Error(err)
	}
	second.Admin().Do("POST", "/import", out).Must(http.StatusConflict)
	second.Admin().Do("POST", "/import", `{"format": "blankwright/shop/2"}`).Must(http.StatusUnprocessableEntity)
	apitest.Open(t).Admin().Get("/export").Must(http.StatusConflict)
}

// A section says at once what fits it, as it stands and as it might be.
func TestFit(t *testing.T) {
	h := bare(t)
	viewer := h.As(access.Viewer)
	var is struct {
		Makes    bool
		Profiles []struct {
			Qualifies bool
			Why       []string
		}
		Hangs []struct {
			Clears bool
			Levels []struct{ Level, Pegs, Pieces int }
		}
	}
	viewer.Get("/sections/S/fit").Must(http.StatusOK).Into(&is)
	if !is.Makes || !is.Profiles[0].Qualifies || !is.Hangs[0].Clears || is.Hangs[0].Levels[0].Pieces != 100 {
		t.Errorf("S: %+v", is)
	}
	viewer.Get("/sections/fit").Must(http.StatusOK)
	viewer.Get("/sections/none/fit").Must(http.StatusNotFound)

	section := shoptest.Bare().Products[0].Sections[0]
	section.ODMM = 5000
	viewer.Do("POST", "/sections/fit", section).Must(http.StatusOK).Into(&is)
	if is.Makes || is.Hangs[0].Clears {
		t.Errorf("5 m wide: %+v", is)
	}
	section.Mandrel, section.Tape, section.Flags[0].Prepreg, section.Profiles = "a", "b", "c", []string{"cure", "d"}
	got := viewer.Do("POST", "/sections/fit", section).Must(http.StatusUnprocessableEntity).Locations()
	if diff := cmp.Diff([]string{"body.mandrel", "body.tape", "body.profiles[1]", "body.flags[0].prepreg"}, got); diff != "" {
		t.Error(diff)
	}
}

// The trail tells what was changed; of accounts and tokens it tells admins
// only.
func TestTrail(t *testing.T) {
	h := bare(t)
	planner := h.As(access.Planner)
	planner.With("If-Match", "*").Do("PUT", "/catalog/tapes/tape", `{"id": "tape", "shrink_from_c": 80, "max_c": 150}`).Must(http.StatusOK)
	var trail struct {
		Items []struct {
			By, Kind, Of, What, Request string
			From, To                    map[string]any
		}
	}
	planner.Get("/trail?kind=tape&of=tape").Must(http.StatusOK).Into(&trail)
	if len(trail.Items) != 1 || trail.Items[0].From["max_c"] != 140.0 || trail.Items[0].To["max_c"] != 150.0 ||
		trail.Items[0].By != "token planner" || trail.Items[0].Request == "" {
		t.Errorf("the trail says %+v", trail.Items)
	}
	planner.Get("/trail?kind=token").Must(http.StatusOK).Into(&trail)
	if len(trail.Items) > 0 {
		t.Errorf("a planner sees %+v", trail.Items)
	}
	h.As(access.Admin).Get("/trail?kind=token").Must(http.StatusOK).Into(&trail)
	if len(trail.Items) == 0 {
		t.Error("an admin sees nothing of tokens")
	}
	var page struct{ Next string }
	planner.Get("/trail?kind=token&limit=1").Must(http.StatusOK).Into(&page)
	if page.Next == "" {
		t.Error("a page that keeps something from a planner is told to be the last")
	}
	planner.Get("/trail?limit=1&after=" + page.Next).Must(http.StatusOK)
	planner.Get("/trail?limit=0").Must(http.StatusUnprocessableEntity)
	planner.Get("/trail?since=yesterday").Must(http.StatusUnprocessableEntity)
}

// A section's wrap recipe is set once by who knows that there is none, and
// changed by who saw it; what is no recipe is refused at its fields.
func TestWrapRecipes(t *testing.T) {
	h := bare(t)
	planner := h.As(access.Planner)
	if got := count(planner.Get("/wrap-recipes")); got != 1 {
		t.Errorf("%d recipes, want one of the shop's only section", got)
	}
	body := object{"pitch_mm": 2.0, "tension_n": 30, "passes": 1}
	planner.With("If-None-Match", "*").Do("PUT", "/wrap-recipes/S", object{"pitch_mm": 0, "passes": 0}).Must(http.StatusUnprocessableEntity)
	set := planner.With("If-None-Match", "*").Do("PUT", "/wrap-recipes/S", body).Must(http.StatusOK)
	planner.With("If-None-Match", "*").Do("PUT", "/wrap-recipes/S", body).Must(http.StatusConflict)
	planner.With("If-Match", set.Header.Get("ETag")).Do("PUT", "/wrap-recipes/S", object{"pitch_mm": 1.5, "tension_n": 30, "passes": 2}).Must(http.StatusOK)
	planner.With("If-Match", set.Header.Get("ETag")).Do("PUT", "/wrap-recipes/S", body).Must(http.StatusPreconditionFailed)
	var got struct {
		Recipe struct {
			Pitch  float64 `json:"pitch_mm"`
			Passes int
		}
	}
	if planner.Get("/wrap-recipes/S").Must(http.StatusOK).Into(&got); got.Recipe.Pitch != 1.5 || got.Recipe.Passes != 2 {
		t.Errorf("read %+v", got)
	}
	planner.Get("/wrap-recipes/none").Must(http.StatusNotFound)
	planner.With("If-Match", set.Header.Get("ETag")).Do("DELETE", "/wrap-recipes/S", nil).Must(http.StatusPreconditionFailed)
	planner.With("If-Match", "*").Do("DELETE", "/wrap-recipes/S", nil).Must(http.StatusNoContent)
	planner.With("If-Match", "*").Do("DELETE", "/wrap-recipes/S", nil).Must(http.StatusNotFound)
	h.As(access.Sales).With("If-Match", "*").Do("PUT", "/wrap-recipes/S", body).Must(http.StatusForbidden)
}
