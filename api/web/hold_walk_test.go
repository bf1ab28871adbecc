package web_test

import (
	"net/http"
	"strings"
	"testing"

	"blankwright/api/access"
)

// A planner holds a line back from the day's page, and it is out of the next
// plan; sales sees it as held wherever it stands, cannot send it, and lifts it.
func TestWalk_Hold(t *testing.T) {
	h, s := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan().open("/day").must(http.StatusOK)
	planner.submit("/change/hold", map[string]string{"line": "NONE/1", "why": "", "until": "soon"}).must(http.StatusUnprocessableEntity).says(`there is no line "NONE/1"`, `"soon" is no date`)
	planner.submit("/change/hold", map[string]string{"line": "GULL-1041/2", "why": "", "until": "2026-11-26"}).must(http.StatusUnprocessableEntity).says("is missing", "must be after today")
	planner.submit("/change/hold", map[string]string{"line": "GULL-1041/2", "why": "store is full", "until": "2026-12-01"}).must(http.StatusOK)
	planner.says("Line GULL-1041/2 is held back", "Held back", "store is full", "Tue 1 Dec 2026")
	planner.plan().says("no longer asked for, or held back")

	sales := visit(t, h, access.Sales).open("/orders?only=held").must(http.StatusOK).says("1 line", "held back until Tue 1 Dec 2026: store is full")
	sales.open("/orders/show/GULL-1041").says("It is held back until Tue 1 Dec 2026: store is full", "on hold, without a date for now")
	if strings.Contains(sales.open("/ship-dates.ics").text, "GULL-1041/2 ships") {
		t.Error("the calendar has a ship date of what is held back")
	}
	sales.open("/orders.csv").must(http.StatusOK)
	if !strings.Contains(sales.text, "store is full") {
		t.Error("the list does not say what is held back")
	}
	sales.open("/print/orders/GULL-1041").says("held back: do not send")
	second := visit(t, h, access.Sales).open("/orders/show/GULL-1041")
	sales.open("/orders/show/GULL-1041").submit("/lines/GULL-1041%2F2/lift", nil).must(http.StatusOK).says("is held back no longer")
	second.submit("/lines/GULL-1041%2F2/lift", nil).must(http.StatusPreconditionFailed).says("Somebody has changed this")
	sales.submit("/lines/GULL-1041%2F2/hold", map[string]string{"why": " "}).must(http.StatusUnprocessableEntity).says("is missing")
	sales.submit("/lines/GULL-1041%2F2/hold", map[string]string{"why": "credit"}).must(http.StatusOK).says("held back: credit")
	planner.open("/day").submit("/lines/GULL-1041%2F2/lift", nil).must(http.StatusOK).says("What needs eyes", "held back no longer")
	if strings.Contains(planner.words(), "No plan knows of these") {
		t.Error("the planner's page still shows a line that was lifted")
	}
	claim := map[string]string{"product": s.Products[0].ID, "sold": "2026-05-02", "failed": "2026-11-20", "reason": "split"}
	sales.open("/claims/new").submit("/claims/new", claim).must(http.StatusOK).submit("/lines/C-00001/hold", map[string]string{"why": "looked at"}).must(http.StatusOK)
	sales.says("held back: looked at").submit("/lines/C-00001/send", map[string]string{"sets": "1"}).must(http.StatusUnprocessableEntity).says("is held back: looked at")
	sales.open("/claims").says("held back: looked at")
	visit(t, h, access.Crib).send("/lines/C-00001/lift", nil).must(http.StatusForbidden)
}
