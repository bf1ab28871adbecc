package rest_test

import (
	"net/http"
	"slices"
	"testing"
	"time"

	"blankwright/api/access"
)

// a roll as a client reads it.
type reel struct {
	ID, Place, Held string
	Left            float64 `json:"left_m2"`
	Used            int64   `json:"used_minutes"`
	Expires         time.Time
	Possible        []string
	Rev             int64
}

// A roll comes, thaws, is cut from, counts its out-time, and is held when that
// is over until somebody extends it.
func TestRoll_Life(t *testing.T) {
	h := openCrib(t)
	c, s := h.As(access.Crib), h.As(access.Station)
	came := body{
		"id": "R/1", "prepreg": "prepreg", "lot": "7", "m2": 40, "expires": h.Clock.Now().AddDate(0, 6, 0),
		"out_time_minutes": 2880, "thaw_minutes": 360,
	}
	c.With("Idempotency-Key", "came").Do("POST", "/rolls", came).Must(http.StatusCreated)
	c.With("Idempotency-Key", "came").Do("POST", "/rolls", came).Must(http.StatusCreated)
	s.Do("POST", "/rolls/R%2F1/out", nil).Must(http.StatusOK) // nothing needs to be said
	if p := s.Do("POST", "/rolls/R%2F1/draw", body{"m2": 1}).Must(http.StatusConflict).Problem(); p.Detail !=
		"R/1 is thawing until 2027-03-01T06:00:00Z, so draw is not possible; possible: in, hold, discard" {
		t.Errorf("drawn from its bag: %s", p.Detail)
	}
	h.Clock.Advance(8 * time.Hour)
	var r reel
	s.Do("POST", "/rolls/R%2F1/draw", body{"m2": 2.5}).Must(http.StatusOK).Into(&r)
	if r.Left != 37.5 || r.Used != 480 || r.Place != "out" || !r.Expires.Equal(h.Clock.Now().Add(40*time.Hour)) {
		t.Errorf("drawn from it is %+v", r)
	}
	h.Clock.Advance(48 * time.Hour)
	c.Get("/rolls/R%2F1").Must(http.StatusOK).Into(&r)
	if r.Place != "held" || r.Held != "out-time exceeded: 56.0 h of 48.0 h" {
		t.Errorf("too long out it is %+v", r)
	}
	again := body{"remark": "retested", "out_time_minutes": 4000}
	s.Do("POST", "/rolls/R%2F1/clear", again).Must(http.StatusForbidden)
	if got := c.Do("POST", "/rolls/R%2F1/clear", body{"remark": "looks fine"}).Must(422).Locations(); !slices.Equal(got, []string{"body.out_time_minutes"}) {
		t.Errorf("cleared as it is: problems at %v", got)
	}
	c.Do("POST", "/rolls/R%2F1/clear", again).Must(http.StatusOK).Into(&r)
	if r.Place != "out" {
		t.Errorf("cleared it is %+v", r)
	}
	s.Do("POST", "/rolls/R%2F1/in", body{"at": h.Clock.Now().Add(-time.Minute)}).Must(422)
	s.Do("POST", "/rolls/R%2F1/in", body{"rev": r.Rev}).Must(http.StatusOK).Into(&r)
	s.Do("POST", "/rolls/R%2F1/hold", body{"remark": "bag torn", "rev": r.Rev - 1}).Must(http.StatusPreconditionFailed)
	var history list[struct{ Move string }]
	c.Get("/rolls/R%2F1/history?limit=2").Must(http.StatusOK).Into(&history)
	if len(history.Items) != 2 || history.Items[0].Move != "in" || history.Items[1].Move != "clear" {
		t.Errorf("its history is %+v", history)
	}
}

// Rolls are listed by where they are, corrected by who saw them, and refused
// with all that is wrong.
func TestRoll_Refused(t *testing.T) {
	h := openCrib(t)
	c := h.As(access.Crib)
	got := c.Do("POST", "/rolls", body{"id": "R1", "prepreg": "none", "m2": 1, "expires": h.Clock.Now().Add(-time.Hour)}).Must(422).Locations()
	if !slices.Equal(got, []string{"body.prepreg", "body.expires"}) {
		t.Errorf("problems at %v", got)
	}
	if got := c.Do("POST", "/rolls", body{"id": "R1", "prepreg": "prepreg", "m2": 0}).Must(422).Locations(); !slices.Equal(got, []string{"body.m2", "body.expires"}) && !slices.Equal(got, []string{"body.expires", "body.m2"}) {
		t.Errorf("problems at %v", got)
	}
	made := c.Do("POST", "/rolls", body{"id": "R1", "prepreg": "prepreg", "m2": 5, "expires": h.Clock.Now().Add(time.Hour)}).Must(http.StatusCreated)
	c.Do("PATCH", "/rolls/R1", body{"lot": "8"}).Must(http.StatusPreconditionRequired)
	c.With("If-Match", made.Header.Get("ETag")).Do("PATCH", "/rolls/R1", body{"lot": "8", "left_m2": 4.5}).Must(http.StatusOK)
	c.With("If-Match", made.Header.Get("ETag")).Do("PATCH", "/rolls/R1", body{"lot": "9"}).Must(http.StatusPreconditionFailed)
	if got := c.With("If-Match", "*").Do("PATCH", "/rolls/R1", body{"expires": "1066-10-14T00:00:00Z"}).Must(422).Locations(); !slices.Equal(got, []string{"body.expires"}) {
		t.Errorf("problems at %v", got)
	}
	c.Do("POST", "/rolls/R1/discard", body{"remark": "spoilt"}).Must(http.StatusOK)
	c.With("If-Match", "*").Do("PATCH", "/rolls/R1", body{"lot": "9"}).Must(http.StatusConflict)
	for path, want := range map[string]int{"/rolls": 0, "/rolls?place=gone": 1, "/rolls?place=held": 0, "/rolls?prepreg=prepreg&place=gone": 1} {
		var rolls list[reel]
		if c.Get(path).Must(http.StatusOK).Into(&rolls); len(rolls.Items) != want {
			t.Errorf("%s holds %+v", path, rolls)
		}
	}
	c.Get("/rolls/R9").Must(http.StatusNotFound)
	c.Do("POST", "/rolls/R9/out", body{}).Must(http.StatusNotFound)
}
