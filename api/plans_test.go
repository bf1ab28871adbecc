package api_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// openShop serves a small shop, of which one line is late whatever is done.
func openShop(t *testing.T, change ...func(*api.Config)) *apitest.House {
	t.Helper()
	h := apitest.Open(t, change...)
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 3, 5, 1)
	shoptest.AddLine(s, "P", 2, -3, 1)
	if err := h.Books.Import(t.Context(), s.Encode()); err != nil {
		t.Fatal(err)
	}
	return h
}

// A ran is what the interface tells of a run.
type ran struct {
	ID         int64
	Stage      string
	Cost       float64
	Iterations int
	Of         int
	Failure    string
}

// planned asks for a plan and waits for its end.
func planned(t testing.TB, h *apitest.House) ran {
	t.Helper()
	answer := h.As(access.Planner).Do("POST", "/plans", nil).Must(http.StatusAccepted)
	return ended(t, h, strings.TrimPrefix(answer.Header.Get("Location"), "/api/v1"))
}

// ended waits for a run's end.
func ended(t testing.TB, h *apitest.House, at string) (run ran) {
	t.Helper()
	until(t, h, func() bool {
		var plan struct{ State string }
		h.As(access.Viewer).Get(strings.Replace(at, "runs", "plans", 1)).Must(http.StatusOK).Into(&plan)
		return plan.State != "running"
	})
	for run.Stage != "done" && run.Stage != "failed" { // the plan is there a moment before its run is over
		h.As(access.Viewer).Get(at).Must(http.StatusOK).Into(&run)
	}
	return run
}

// until waits for something that the books will show.
func until(t testing.TB, h *apitest.House, there func() bool) {
	t.Helper()
	wake, stop := h.Books.Watch()
	defer stop()
	for !there() {
		select {
		case <-wake:
		case <-time.After(time.Minute):
			t.Fatal("it does not come")
		}
	}
}

// Two who ask while a plan is being made get the same run; stopped, it keeps what it has.
func TestPlans_JoinAndStop(t *testing.T) {
	h := openShop(t, func(c *api.Config) {
		// A shop as small as this is planned in moments, at no more than its bound: the
		// planner waits until it is stopped, so that there is a plan to join.
		c.Planning.Plan = func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
			for !o.Stop() {
				time.Sleep(time.Millisecond)
			}
			return scheduler.Plan(ctx, s, o)
		}
	})
	planner := h.As(access.Planner)
	var first, second struct {
		Run    ran
		Joined bool
	}
	planner.Do("POST", "/plans", nil).Must(http.StatusAccepted).Into(&first)
	planner.Do("POST", "/plans", nil).Must(http.StatusAccepted).Into(&second)
	if first.Joined || !second.Joined || first.Run.ID != second.Run.ID {
		t.Errorf("first %+v, second %+v", first, second)
	}
	planner.Do("POST", fmt.Sprintf("/runs/%d/stop", first.Run.ID), nil).Must(http.StatusAccepted)
	if run := ended(t, h, fmt.Sprintf("/runs/%d", first.Run.ID)); run.Stage != "done" {
		t.Errorf("the stopped run ended %+v", run)
	}
}

// Empty books have nothing to plan.
func TestPlans_EmptyBooks(t *testing.T) {
	h := apitest.Open(t)
	h.As(access.Planner).Do("POST", "/plans", nil).Must(http.StatusConflict)
	var list struct{ Items []any }
	h.As(access.Planner).Get("/plans").Must(http.StatusOK).Into(&list)
	if list.Items == nil || len(list.Items) > 0 {
		t.Errorf("plans %v", list.Items)
	}
}

// The tick's settings are read and changed under their ETag, and say when it is due.
func TestTick(t *testing.T) {
	h := openShop(t)
	planner := h.As(access.Planner)
	read := func(a *apitest.Answer) string {
		t.Helper()
		var got struct {
			On   bool
			At   string
			Days int `json:"release_days"`
			Next string
			Rev  int
		}
		a.Must(http.StatusOK).Into(&got)
		return fmt.Sprintf("%t %s %d %s %s %d", got.On, got.At, got.Days, got.Next, a.Header.Get("ETag"), got.Rev)
	}
	steps := []struct {
		change any
		want   string
	}{
		{nil, `true 15:00 0 2027-03-01T15:00:00Z "1" 1`},
		{map[string]any{"at": "06:30", "release_days": 2}, `true 06:30 2 2027-03-01T06:30:00Z "2" 2`},
		{map[string]any{"on": false}, `false 06:30 2  "3" 3`},
		{map[string]any{}, `false 06:30 2  "4" 4`},
	}
	for i, step := range steps {
		if step.change != nil {
			tag := fmt.Sprintf(`"%d"`, i)
			if got := read(planner.With("If-Match", tag).Do("PATCH", "/tick", step.change)); got != step.want {
				t.Errorf("changed to %s, want %s", got, step.want)
			}
			planner.With("If-Match", tag).Do("PATCH", "/tick", step.change).Must(http.StatusPreconditionFailed)
		}
		if got := read(planner.Get("/tick")); got != step.want {
			t.Errorf("read %s, want %s", got, step.want)
		}
	}
	planner.Do("PATCH", "/tick", map[string]any{}).Must(http.StatusPreconditionRequired)
	if next := read(apitest.Open(t).As(access.Viewer).Get("/tick")); next != `true 15:00 0  "1" 1` {
		t.Errorf("of empty books: %s", next)
	}
}

// A tick that was missed is made up for when the server begins its work, and what
// became of it is listed.
func TestTick_Missed(t *testing.T) {
	h := openShop(t)
	ctx := context.Background()
	if err := h.Books.BeginTicks(ctx); err != nil {
		t.Fatal(err)
	}
	h.Clock.Advance(75 * time.Hour) // three ticks
	if err := h.Server.BeginWork(ctx); err != nil {
		t.Fatal(err)
	}
	type tick struct {
		Due   string
		State string
		Plan  int64
	}
	var list struct{ Items []tick }
	until(t, h, func() bool {
		h.As(access.Viewer).Get("/ticks?limit=5").Must(http.StatusOK).Into(&list)
		return len(list.Items) > 0 && list.Items[0].State != "running"
	})
	if diff := cmp.Diff([]tick{{"2027-03-03T15:00:00Z", "done", 1}}, list.Items); diff != "" {
		t.Errorf("ticks (-want +got):\n%s", diff)
	}
	var latest struct{ Why, By string }
	h.As(access.Viewer).Get("/plans/latest").Must(http.StatusOK).Into(&latest)
	if latest.Why != "tick" || latest.By != "tick" {
		t.Errorf("the latest plan is %+v", latest)
	}
}

// What is wrong with a request about plans is told with its place.
func TestPlans_BadInput(t *testing.T) {
	h := openShop(t)
	tests := []struct {
		method, path string
		body         any
		status       int
		want         []string
	}{
		{"GET", "/plans?limit=0", nil, 422, []string{"query.limit"}},
		{"GET", "/plans?limit=x&after=-1&why=fun&state=gone", nil, 422, []string{"query.why", "query.state", "query.limit", "query.after"}},
		{"GET", "/plans?colour=red", nil, 422, []string{"query.colour"}},
		{"GET", "/plans/none", nil, 422, []string{"path.id"}},
		{"GET", "/plans/0", nil, 422, []string{"path.id"}},
		{"GET", "/plans/99999999999999999999", nil, 422, []string{"path.id"}},
		{"GET", "/plans/7", nil, 404, nil},
		{"GET", "/plans/7/file", nil, 404, nil},
		{"GET", "/plans/7/difference/x", nil, 422, []string{"path.later"}},
		{"GET", "/plans/7/difference/8", nil, 404, nil},
		{"GET", "/runs/7", nil, 404, nil},
		{"POST", "/runs/7/stop", nil, 404, nil},
		{"POST", "/plans/7/in-force", nil, 404, nil},
		{"GET", "/notices?unseen=maybe", nil, 422, []string{"query.unseen"}},
		{"POST", "/notices/7/seen", nil, 404, nil},
		{"GET", "/ticks?limit=501", nil, 422, []string{"query.limit"}},
		{"PATCH", "/tick", map[string]any{"at": "25:00", "release_days": -1, "on": "yes"}, 422, []string{"body.at", "body.on", "body.release_days"}},
		{"PATCH", "/tick", map[string]any{"hour": 3}, 422, []string{"body.hour"}},
		{"PATCH", "/tick", "{\"at\":\"\xff\"}", 400, []string{"body"}},
		{"PATCH", "/tick", json.RawMessage(`[]`), 422, []string{"body"}},
	}
	for _, test := range tests {
		answer := h.As(access.Planner).With("If-Match", "*").Do(test.method, test.path, test.body)
		if answer.Status != test.status {
			t.Errorf("%s %s: status %d, want %d: %s", test.method, test.path, answer.Status, test.status, answer.Text)
			continue
		}
		if diff := cmp.Diff(test.want, answer.Locations()); diff != "" {
			t.Errorf("%s %s (-want +got):\n%s", test.method, test.path, diff)
		}
	}
}
