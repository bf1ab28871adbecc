package api_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A floorTask is what the interface tells of a released task.
type floorTask struct {
	ID       int64
	Stage    string
	Position int
	Pieces   int
	Live     int
	State    string
	From     time.Time
}

// released plans the shop, releases all of the plan, and returns the loads' ids.
func released(t *testing.T, h *apitest.House) (release int64, loads []string) {
	t.Helper()
	plan := planned(t, h)
	var got struct {
		ID    int64
		Plan  int64
		By    string
		Loads []string
	}
	ask := map[string]any{"plan": plan.ID, "until": h.Clock.Now().AddDate(0, 0, 40)}
	h.As(access.Planner).Do("POST", "/releases", ask).Must(http.StatusCreated).Into(&got)
	if got.Plan != plan.ID || got.By != "token planner" || len(got.Loads) == 0 {
		t.Fatalf("released %+v", got)
	}
	return got.ID, got.Loads
}

// tasksOf returns the tasks of a load, by stage and start.
func tasksOf(h *apitest.House, load string) []floorTask {
	var got struct{ Tasks []floorTask }
	h.As(access.Station).Get("/loads/" + url.PathEscape(load)).Must(http.StatusOK).Into(&got)
	return got.Tasks
}

// A release puts its plan in force, fills the queues, is there once for one key, and is
// undone as long as nothing of it has begun.
func TestReleases(t *testing.T) {
	h := openShop(t)
	planner := h.As(access.Planner)
	plan := planned(t, h)
	ask := map[string]any{"plan": plan.ID, "until": h.Clock.Now().AddDate(0, 0, 40)}
	first := planner.With("Idempotency-Key", "a").Do("POST", "/releases", ask).Must(http.StatusCreated)
	again := planner.With("Idempotency-Key", "a").Do("POST", "/releases", ask).Must(http.StatusCreated)
	if diff := cmp.Diff(string(first.Text), string(again.Text)); diff != "" {
		t.Errorf("the same key answers (-want +got):\n%s", diff)
	}
	planner.Do("POST", "/releases", ask).Must(http.StatusConflict) // all of it is released
	var inForce struct{ ID int64 }
	planner.Get("/plans/in-force").Must(http.StatusOK).Into(&inForce)
	if inForce.ID != plan.ID {
		t.Errorf("in force is %d, want %d", inForce.ID, plan.ID)
	}
	at := strings.TrimPrefix(first.Header.Get("Location"), "/api/v1")
	if one := planner.Get(at).Must(http.StatusOK); string(one.Text) != string(first.Text) {
		t.Errorf("read %s, made %s", one.Text, first.Text)
	}
	planner.Do("DELETE", at, nil).Must(http.StatusNoContent)
	planner.Do("DELETE", at, nil).Must(http.StatusConflict)
	var list struct{ Items []struct{ Undone *time.Time } }
	planner.Get("/releases?limit=5").Must(http.StatusOK).Into(&list)
	if len(list.Items) != 1 || list.Items[0].Undone == nil {
		t.Errorf("releases %+v", list)
	}
	release, loads := released(t, h)
	task := tasksOf(h, loads[0])[0]
	h.As(access.Station).Do("POST", fmt.Sprintf("/tasks/%d/begun", task.ID), nil).Must(http.StatusCreated)
	planner.Do("DELETE", fmt.Sprintf("/releases/%d", release), nil).Must(http.StatusConflict)
}

// A shop is worked from the queues: what is released is worked, goes through the oven,
// is trimmed, and becomes stock; scrap and corrections are counted, and the pieces
// always balance.
func TestFloor(t *testing.T) {
	h := openShop(t)
	station := h.As(access.Station)
	_, loads := released(t, h)
	scrapped := 0
	var last int64
	for _, load := range loads {
		at := "/loads/" + url.PathEscape(load)
		out := false
		for _, task := range tasksOf(h, load) {
			if !out && (task.Stage == "pull" || task.Stage == "strip" || task.Stage == "trim") {
				station.Do("POST", at+"/in", map[string]any{}).Must(http.StatusCreated)
				h.Clock.Advance(3 * time.Hour)
				station.Do("POST", at+"/out", map[string]any{}).Must(http.StatusCreated)
				h.Clock.Advance(time.Hour)
				out = true
			}
			now := floorTaskNow(h, task.ID)
			station.Do("POST", fmt.Sprintf("/tasks/%d/begun", task.ID), map[string]any{"at": h.Clock.Now()}).Must(http.StatusCreated)
			h.Clock.Advance(10 * time.Minute)
			done := map[string]any{"good": now.Live, "dead": now.Pieces - now.Live}
			if now.Stage == "strip" && scrapped == 0 {
				scrapped, done["good"], done["scrap"] = 1, now.Live-1, []any{map[string]any{"reason": "wrinkle", "pieces": 1}}
			}
			var report struct{ ID int64 }
			station.Do("POST", fmt.Sprintf("/tasks/%d/done", task.ID), done).Must(http.StatusCreated).Into(&report)
			last = report.ID
			balances(t, h)
		}
	}
	if got := balances(t, h); got["trimmed"] != 4 || got["scrapped"] != 1 || got["in_work"] != 0 {
		t.Errorf("at the end the pieces are %v", got)
	}
	correction := map[string]any{"reason": "it was not trimmed at all", "withdraw": true}
	var corrected struct {
		What      string
		Corrects  int64
		Withdrawn bool
	}
	station.Do("POST", fmt.Sprintf("/reports/%d/correction", last), correction).Must(http.StatusCreated).Into(&corrected)
	if corrected.What != "corrected" || corrected.Corrects != last || !corrected.Withdrawn {
		t.Errorf("the correction is %+v", corrected)
	}
	if got := balances(t, h); got["trimmed"] == 4 {
		t.Errorf("after the correction the pieces are %v", got)
	}
	var list struct {
		Items []struct {
			What  string
			Scrap []struct{ Reason string }
		}
	}
	station.Get("/reports?limit=500").Must(http.StatusOK).Into(&list)
	told := map[string]int{}
	for _, r := range list.Items {
		told[r.What]++
		told["scrap"] += len(r.Scrap)
	}
	if told["in"] != len(loads) || told["out"] != len(loads) || told["corrected"] != 1 || told["begun"] != told["done"] || told["scrap"] != 1 {
		t.Errorf("reported %v", told)
	}
	station.Get("/troubles").Must(http.StatusOK)
}

// floorTaskNow returns a task as it stands.
func floorTaskNow(h *apitest.House, id int64) (task floorTask) {
	h.As(access.Station).Get(fmt.Sprintf("/tasks/%d", id)).Must(http.StatusOK).Into(&task)
	return task
}

// balances reads what became of the pieces, and has them add up.
func balances(t *testing.T, h *apitest.House) map[string]any {
	t.Helper()
	var got map[string]any
	h.As(access.Viewer).Get("/balance").Must(http.StatusOK).Into(&got)
	counts := map[string]any{}
	sum := 0.0
	for _, name := range []string{"trimmed", "scrapped", "in_work"} {
		sum += got[name].(float64)
		counts[name] = int(got[name].(float64))
	}
	if started := got["started"].(float64); started != sum {
		t.Errorf("%v pieces were started, but the pieces are %v", started, got)
	}
	return counts
}

// Each station and oven has its queue of a day, in the order of the work.
func TestQueues(t *testing.T) {
	h := openShop(t)
	_, loads := released(t, h)
	found := 0
	for _, load := range loads {
		for _, task := range tasksOf(h, load) {
			var queue struct{ Items []floorTask }
			h.As(access.Station).Get("/queues/" + task.Stage + "/" + task.From.Format(time.DateOnly)).Must(http.StatusOK).Into(&queue)
			for i, got := range queue.Items {
				if got.ID == task.ID {
					found++
				}
				if i > 0 && got.Position == queue.Items[i-1].Position && got.From.Before(queue.Items[i-1].From) {
					t.Errorf("queue of %s: %+v comes after %+v", task.Stage, got, queue.Items[i-1])
				}
			}
			found--
		}
	}
	if found != 0 {
		t.Errorf("of the tasks, %d more are in the queues than there are", found)
	}
	var all, queue struct {
		Items []struct {
			Planned struct{ ID string }
			In      time.Time
		}
	}
	h.As(access.Viewer).Get("/loads").Must(http.StatusOK).Into(&all)
	if len(all.Items) != len(loads) {
		t.Fatalf("loads %+v, want %v", all.Items, loads)
	}
	h.As(access.Viewer).Get("/oven-queues/oven/" + all.Items[0].In.Format(time.DateOnly)).Must(http.StatusOK).Into(&queue)
	if len(queue.Items) == 0 || queue.Items[0].Planned.ID != all.Items[0].Planned.ID {
		t.Errorf("the oven's queue is %+v, want first %+v", queue.Items, all.Items[0])
	}
	h.As(access.Viewer).Get("/queues/cut/2027-12-31").Must(http.StatusOK).Into(&queue)
	if len(queue.Items) != 0 {
		t.Errorf("long after, the queue is %+v", queue.Items)
	}
}

// What is wrong with a request about the floor is told with its place.
func TestFloor_BadInput(t *testing.T) {
	h := openShop(t)
	_, loads := released(t, h)
	task := tasksOf(h, loads[0])[0]
	begun, done := fmt.Sprintf("/tasks/%d/begun", task.ID), fmt.Sprintf("/tasks/%d/done", task.ID)
	later := h.Clock.Now().Add(time.Hour)
	scrap := func(reason string, pieces any) []any {
		return []any{map[string]any{"reason": reason, "pieces": pieces}}
	}
	tests := []struct {
		method, path string
		body         any
		status       int
		want         []string
	}{
		{"POST", "/releases", map[string]any{}, 422, []string{"body.plan", "body.until"}},
		{"POST", "/releases", map[string]any{"plan": 0, "until": "soon", "all": true}, 422, []string{"body.plan", "body.until", "body.all"}},
		{"POST", "/releases", map[string]any{"plan": 77, "until": later}, 404, nil},
		{"GET", "/releases/9", nil, 404, nil},
		{"DELETE", "/releases/9", nil, 404, nil},
		{"GET", "/releases?after=x", nil, 422, []string{"query.after"}},
		{"GET", "/queues/polish/2027-03-01", nil, 422, []string{"path.station"}},
		{"GET", "/queues/cut/yesterday", nil, 422, []string{"path.day"}},
		{"GET", "/queues/cut/0000-01-01", nil, 422, []string{"path.day"}},
		{"GET", "/queues/cut/2027-02-30", nil, 422, []string{"path.day"}},
		{"GET", "/oven-queues/none/2027-03-01", nil, 404, nil},
		{"GET", "/loads/none", nil, 404, nil},
		{"GET", "/loads/%27%3B%20DROP%20TABLE%20plans", nil, 404, nil},
		{"GET", "/tasks/999", nil, 404, nil},
		{"POST", "/tasks/999/begun", map[string]any{}, 404, nil},
		{"POST", begun, map[string]any{"at": later}, 422, []string{"body.at"}},
		{"POST", begun, map[string]any{"at": 5, "who": "me"}, 422, []string{"body.at", "body.who"}},
		{"POST", done, map[string]any{"good": 1}, 409, nil}, // not begun
		{"POST", done, map[string]any{}, 422, []string{"body.good"}},
		{"POST", done, map[string]any{"good": -1, "scrap": scrap("boredom", 0)}, 422, []string{"body.good", "body.scrap[0].pieces", "body.scrap[0].reason"}},
		{"POST", "/loads/none/in", map[string]any{}, 404, nil},
		{"POST", "/loads/" + url.PathEscape(loads[0]) + "/out", map[string]any{}, 409, nil}, // not in
		{"POST", "/reports/999/correction", map[string]any{"reason": "x"}, 404, nil},
		{"POST", "/reports/1/correction", map[string]any{}, 422, []string{"body.reason"}},
		{"GET", "/reports?task=0", nil, 422, []string{"query.task"}},
		{"GET", "/shipping-dates?limit=501", nil, 422, []string{"query.limit"}},
	}
	for _, test := range tests {
		answer := h.Admin().Do(test.method, test.path, test.body)
		if answer.Status != test.status {
			t.Errorf("%s %s %v: status %d, want %d: %s", test.method, test.path, test.body, answer.Status, test.status, answer.Text)
			continue
		}
		if diff := cmp.Diff(sorted(test.want), sorted(answer.Locations())); diff != "" {
			t.Errorf("%s %s %v (-want +got):\n%s", test.method, test.path, test.body, diff)
		}
	}
}

// Each open line has the date by the latest plan beside the one that was promised.
func TestShippingDates(t *testing.T) {
	h := openShop(t)
	sales := h.As(access.Sales)
	type row struct {
		Line      string
		Planned   bool
		Ships     string
		Promised  string
		AfterDue  *int `json:"after_due"`
		Moved     *int
		Unplanned int
		Parts     []struct{ Sets int }
	}
	read := func(query string) (plan int64, rows []row) {
		t.Helper()
		var got struct {
			Plan  int64
			Items []row
		}
		sales.Get("/shipping-dates" + query).Must(http.StatusOK).Into(&got)
		return got.Plan, got.Items
	}
	if plan, rows := read(""); plan != 0 || len(rows) != 2 || rows[0].Planned || rows[0].Ships != "" {
		t.Errorf("before there is a plan: %d %+v", plan, rows)
	}
	promise(t, h, "D1", 3, 5, 5)
	run := planned(t, h)
	plan, rows := read("")
	if plan != run.ID || len(rows) != 2 || rows[0].Line != "D2" || rows[1].Line != "D1" {
		t.Fatalf("plan %d, rows %+v", plan, rows)
	}
	if late := rows[0]; !late.Planned || late.Ships != "2027-03-01" || *late.AfterDue != 3 || late.Moved != nil || len(late.Parts) != 1 {
		t.Errorf("the late line is %+v", late)
	}
	if kept := rows[1]; kept.Promised != "2027-03-06" || kept.Moved == nil || *kept.Moved != *kept.AfterDue {
		t.Errorf("the promised line is %+v", kept)
	}
	if _, rows := read("?text=d2&limit=1"); len(rows) != 1 || rows[0].Line != "D2" {
		t.Errorf("found %+v", rows)
	}
	if _, rows := read("?after=D2"); len(rows) != 1 || rows[0].Line != "D1" {
		t.Errorf("the page after is %+v", rows)
	}
}

// promise changes a line of the shop's, and promises its date.
func promise(t *testing.T, h *apitest.House, line string, sets, due, promised int) {
	t.Helper()
	day := shop.DateOf(h.Clock.Now())
	date := day + shop.Date(promised)
	terms := store.LineTerms{Product: "P", Quantity: sets, Due: day + shop.Date(due), Promised: &date}
	if _, err := h.Books.ChangeLine(t.Context(), line, terms, 0); err != nil {
		t.Fatal(err)
	}
}

func sorted(list []string) []string {
	list = slices.Clone(list)
	slices.Sort(list)
	return list
}
