package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"blankwright/api/access"
)

// The planner says how the tape goes onto a section; the wrap sheet and the
// station at the spindle then say so, and leave the others for a hand.
func TestWalk_Wrap(t *testing.T) {
	h, s := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan()
	planner.open("/catalog").open(planner.link("Wrap recipes")).must(http.StatusOK).says("not said")
	section := s.Products[0].Sections[0].ID
	address := "/wraps/" + section
	planner.open(address).must(http.StatusOK)
	planner.submit(address, map[string]string{"pitch_mm": "", "tension_n": "-1", "passes": "0"}).must(http.StatusUnprocessableEntity).says("is missing")
	planner.submit(address, map[string]string{"pitch_mm": "0", "tension_n": "-1", "passes": "0"}).must(http.StatusUnprocessableEntity).says("above 0", "is -1", "is 0, but must be at least 1")
	second := visit(t, h, access.Planner).open(address)
	for _, p := range s.Products {
		for i := range p.Sections {
			address := "/wraps/" + p.Sections[i].ID
			planner.open(address).submit(address, map[string]string{"pitch_mm": "2.25", "tension_n": "31", "passes": "2"}).must(http.StatusOK)
		}
	}
	planner.says("2.25 mm", "31 N")
	second.submit(address, map[string]string{"pitch_mm": "1", "tension_n": "1"}).must(http.StatusConflict)
	planner.open("/day").submit("/plans/1/release", map[string]string{"until": "2026-11-28T00:00"}).must(http.StatusOK)
	planner.open(planner.link("Print this day"))
	planner.open(planner.link("Wrap sheets")).must(http.StatusOK).says("2.25 mm", "31 N", "turns in 2 passes", "shrinks from")
	h.Clock.Set(time.Date(2026, 11, 27, 10, 45, 0, 0, time.UTC))
	bench := visit(t, h, access.Station).open("/floor/at/wrap/1").must(http.StatusOK)
	if !strings.Contains(bench.words(), "pitch 2.25 mm, tension 31 N, 2 passes") {
		t.Errorf("the station is not told the pitch:\n%s", bench.words())
	}
	visit(t, h, access.Station).open(address).must(http.StatusForbidden)
	visit(t, h, access.Station).open("/wraps").must(http.StatusOK).says("2.25")
	planner.open("/wraps/none").must(http.StatusNotFound)
}
