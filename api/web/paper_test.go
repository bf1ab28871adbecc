package web_test

import (
	"strings"
	"testing"
	"time"

	"blankwright/api/web"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// A task that was begun on the evening before says so on the sheet of the day on
// which it ends.
func TestPaper_Overnight(t *testing.T) {
	end := time.Date(2026, 11, 27, 7, 3, 0, 0, time.UTC)
	task := web.RunTask{Task: sheet.Task{Start: shop.InstantOf(end.Add(-9 * time.Hour)), End: shop.InstantOf(end)}, Stage: shop.Wrap, Position: 2}
	paper := web.Paper{Frame: web.Frame{}, Date: shop.DateOf(end), Wrap: []web.RunSheet{{Load: &sheet.Load{ID: "L001"}, Runs: []web.RunRow{{Section: "S", Tasks: []web.RunTask{task}}}}}}
	if text := look(t, rendered(t, "", &paper)); !strings.Contains(text, "Thu 26 Nov 22:03–07:03") {
		t.Errorf("the sheet does not say when the task was begun:\n%s", text)
	}
}

// The longer the list of what hangs, the smaller the drawing above it.
func TestLoadSheet_Crowd(t *testing.T) {
	for rows, want := range map[int]string{1: "few", 6: "few", 7: "some", 22: "some", 23: "many", 34: "many", 35: "most"} {
		sheet := web.LoadSheet{LoadView: web.LoadView{Hangs: make([]web.HangView, rows)}}
		if got := sheet.Crowd(); got != want {
			t.Errorf("%d rows are %q, want %q", rows, got, want)
		}
	}
}
