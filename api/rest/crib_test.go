package rest_test

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

type body = map[string]any

// a mandrel as a client reads it.
type tool struct {
	ID, Type, Place, Load string
	Back                  *time.Time
	Cycles                int
	Due                   []struct{ Move string }
	Possible              []string
	Rev                   int64
}

type list[T any] struct{ Items []T }

// openCrib serves the bare shop with three mandrels FA/01 to FA/03 and a
// released load L/1 of two pieces, tacked at six in the morning.
func openCrib(t *testing.T) *apitest.House {
	t.Helper()
	h := apitest.Open(t)
	s := shoptest.Bare()
	s.Mandrels = nil
	for i := range 3 {
		s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: fmt.Sprintf("FA/%02d", i+1), Type: "mandrel", State: shop.Ready})
	}
	s.Released = released(s)
	if err := h.Books.Import(t.Context(), s.Encode()); err != nil {
		t.Fatal(err)
	}
	return h
}

func released(s *shop.Shop) *shop.Released {
	at := func(hour int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + hour*60} }
	w := &shop.Released{Loads: []shop.Load{{
		ID: "L/1", Oven: "oven", Profile: "cure", In: at(9), CureStart: at(10), CureEnd: at(11), Out: at(12),
		Racks: []shop.RackUse{{Rack: "rack", Setup: "one level", Levels: [][]shop.Hang{{{Section: "S", Pieces: 2}}}}},
	}}}
	for i, stage := range shop.Stages() {
		hour := []int64{5, 6, 7, 8, 13, 14, 15}[i]
		t := shop.Task{Load: "L/1", Section: "S", Stage: stage, Position: 1, Pieces: 2, Start: at(hour), End: at(hour + 1)}
		if stage == shop.Cut {
			t.Prepreg = "prepreg"
		}
		w.Tasks = append(w.Tasks, t)
	}
	return w
}

// The crib's day: what is picked for a load is issued, comes back with one
// bent, is wiped, and each mandrel's card tells it.
func TestCrib_Day(t *testing.T) {
	h := openCrib(t)
	c := h.As(access.Crib)
	var picks list[struct {
		Load, Type string
		Pieces     int
		Mandrels   []struct{ ID string }
	}]
	c.Get("/crib/pick?load=L%2F1").Must(http.StatusOK).Into(&picks)
	if len(picks.Items) != 1 || len(picks.Items[0].Mandrels) != 2 || picks.Items[0].Mandrels[1].ID != "FA/02" {
		t.Fatalf("picked %+v", picks)
	}
	var same list[struct{ Load string }]
	c.Get("/crib/pick?release=1").Must(http.StatusOK).Into(&same)
	c.Get("/crib/pick?release=7").Must(http.StatusNotFound)
	if len(same.Items) != 1 {
		t.Errorf("picked for the release %+v", same)
	}
	issue := body{"ids": []string{"FA/01", "FA/02"}, "load": "L/1"}
	var moved list[tool]
	for range 2 { // the second is the first, sent again
		h.As(access.Station).With("Idempotency-Key", "issue-1").Do("POST", "/crib/issue", issue).Must(http.StatusOK).Into(&moved)
	}
	if moved.Items[0].Place != "issued" || moved.Items[0].Load != "L/1" || moved.Items[0].Rev != 2 {
		t.Errorf("issued %+v", moved)
	}
	h.Clock.Advance(14 * time.Hour)
	h.As(access.Station).Do("POST", "/crib/return", body{"ids": []string{"FA/01"}}).Must(http.StatusOK)
	c.Do("POST", "/crib/return", body{"ids": []string{"FA/02"}, "damaged": true, "remark": "bent"}).Must(http.StatusOK)
	c.Do("POST", "/crib/moves", body{"ids": []string{"FA/01"}, "move": "crib"}).Must(http.StatusOK)
	var one tool
	answer := c.Get("/mandrels/FA%2F02").Must(http.StatusOK).Into(&one)
	if one.Place != "quarantine" || one.Cycles != 1 || answer.Header.Get("ETag") != `"3"` || !slices.Equal(one.Possible, []string{"inspect", "regrind", "scrap"}) {
		t.Errorf("FA/02 is %+v, ETag %s", one, answer.Header.Get("ETag"))
	}
	var history list[struct{ Move, Remark, By string }]
	c.Get("/mandrels/FA%2F02/history").Must(http.StatusOK).Into(&history)
	if len(history.Items) != 3 || history.Items[0].Remark != "bent" || !strings.Contains(history.Items[0].By, "crib") {
		t.Errorf("its history is %+v", history)
	}
	var failures list[struct{ Reason string }]
	c.Get("/mandrels/FA%2F02/failures").Must(http.StatusOK).Into(&failures)
	if len(failures.Items) != 0 {
		t.Errorf("it failed by %+v", failures)
	}
	var counts list[struct{ In, Out, Held, All int }]
	c.Get("/crib/counts").Must(http.StatusOK).Into(&counts)
	if got := counts.Items[0]; got.In != 2 || got.Out != 0 || got.Held != 1 || got.All != 3 {
		t.Errorf("counted %+v", got)
	}
}

// What is not possible is refused with what is, and what is wrong with its
// place.
func TestCrib_Refused(t *testing.T) {
	h := openCrib(t)
	c := h.As(access.Crib)
	c.Do("POST", "/crib/moves", body{"ids": []string{"FA/01"}, "move": "scrap", "remark": "snapped"}).Must(http.StatusOK)
	p := c.Do("POST", "/crib/moves", body{"ids": []string{"FA/02", "FA/01"}, "move": "clean"}).Must(http.StatusConflict).Problem()
	if want := "FA/01 is scrapped, so clean is not possible; possible: nothing"; p.Detail != want {
		t.Errorf("refused by %q, want %q", p.Detail, want)
	}
	tests := []struct {
		name, path string
		body       any
		status     int
		want       []string
	}{
		{"no mandrels", "/crib/moves", body{"ids": []string{}, "move": "clean"}, 422, []string{"body.ids"}},
		{"unknown, twice", "/crib/moves", body{"ids": []string{"FA/02", "x", "FA/02"}, "move": "clean"}, 422, []string{"body.ids[1]", "body.ids[2]"}},
		{"no such move", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "melt"}, 422, []string{"body.move"}},
		{"issued as a move", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "issue"}, 422, []string{"body.move"}},
		{"no load", "/crib/issue", body{"ids": []string{"FA/02"}}, 422, []string{"body.load"}},
		{"no such load", "/crib/issue", body{"ids": []string{"FA/02"}, "load": "L9"}, 422, []string{"body.load"}},
		{"scrapped for nothing", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "scrap"}, 422, []string{"body.remark"}},
		{"unknown field", "/crib/return", body{"ids": []string{"FA/02"}, "bent": true}, 422, []string{"body.bent"}},
		{"not yet", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "clean", "at": "2099-01-01T00:00:00Z"}, 422, []string{"body.at"}},
		{"back in the year 9999", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "clean", "until": "9999-01-01T00:00:00Z"}, 422, []string{"body.until"}},
		{"seen otherwise", "/crib/moves", body{"ids": []string{"FA/02"}, "move": "clean", "seen": body{"FA/02": 7}}, 412, nil},
		{"entered again", "/mandrels", body{"id": "FA/02", "type": "none", "cycles": 1, "since_recoat": 2, "since_inspection": 0}, 422, []string{"body.id", "body.type", "body.since_recoat"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := c.Do("POST", test.path, test.body).Must(test.status).Locations(); !slices.Equal(got, test.want) {
				t.Errorf("problems at %v, want %v", got, test.want)
			}
		})
	}
	if got := c.Get("/crib/pick?load=L9").Must(422).Locations(); !slices.Equal(got, []string{"query.load"}) {
		t.Errorf("picked for a load that is not there: problems at %v", got)
	}
	c.Get("/mandrels/FA%2F09").Must(http.StatusNotFound)
	c.Get("/mandrels/FA%2F09/history").Must(http.StatusNotFound)
}

// A type's limit makes a mandrel due, which a list and the days ahead show.
func TestCrib_Limits(t *testing.T) {
	h := openCrib(t)
	c := h.As(access.Planner)
	limit := body{"recoat": 5, "inspection": 0}
	c.Do("PUT", "/crib/limits/mandrel", limit).Must(http.StatusPreconditionRequired)
	tag := c.With("If-Match", "*").Do("PUT", "/crib/limits/mandrel", limit).Must(http.StatusOK).Header.Get("ETag")
	c.With("If-Match", `"9"`).Do("PUT", "/crib/limits/mandrel", limit).Must(http.StatusPreconditionFailed)
	c.With("If-Match", tag).Do("PUT", "/crib/limits/mandrel", limit).Must(http.StatusOK)
	c.With("If-Match", "*").Do("PUT", "/crib/limits/none", limit).Must(http.StatusNotFound)
	var limits list[struct{ Recoat, Rev int }]
	c.Get("/crib/limits").Must(http.StatusOK).Into(&limits)
	if len(limits.Items) != 1 || limits.Items[0].Recoat != 5 || limits.Items[0].Rev != 2 {
		t.Errorf("the limits are %+v", limits)
	}
	worn := body{"cycles": 5, "since_recoat": 5}
	c.With("If-Match", `"1"`).Do("PATCH", "/mandrels/FA%2F01", worn).Must(http.StatusOK)
	c.With("If-Match", `"1"`).Do("PATCH", "/mandrels/FA%2F01", worn).Must(http.StatusPreconditionFailed)
	var due list[tool]
	c.Get("/mandrels?due=true").Must(http.StatusOK).Into(&due)
	if len(due.Items) != 1 || due.Items[0].ID != "FA/01" || due.Items[0].Due[0].Move != "recoat" || slices.Contains(due.Items[0].Possible, "issue") {
		t.Errorf("due are %+v", due)
	}
	var ahead list[struct {
		Date                      string
		Ready, Due, Needed, Short int
	}]
	c.Get("/crib/ahead?days=2").Must(http.StatusOK).Into(&ahead)
	if len(ahead.Items) != 2 || ahead.Items[0].Ready != 2 || ahead.Items[0].Due != 1 || ahead.Items[0].Needed != 2 || ahead.Items[1].Date != "2027-03-02" {
		t.Errorf("ahead are %+v", ahead)
	}
	c.Do("POST", "/mandrels", body{"id": "FA/04", "type": "mandrel", "cycles": 0, "since_recoat": 0, "since_inspection": 0}).Must(http.StatusCreated)
	var page list[tool]
	c.Get("/mandrels?after=FA%2F02&limit=1&type=mandrel&place=crib").Must(http.StatusOK).Into(&page)
	if len(page.Items) != 1 || page.Items[0].ID != "FA/03" {
		t.Errorf("the page holds %+v", page)
	}
}
