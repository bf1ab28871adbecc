package api_test

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// are what the checker accepts.
func TestPlans_Make(t *testing.T) {
	h := openShop(t)
	run := planned(t, h)
	if run.Stage != "done" || run.Of != 50 || run.Cost == 0 {
		t.Errorf("the run ended %+v", run)
	}
	c := h.As(access.Sales)
	var latest struct {
		ID      int64
		Why     string
		State   string
		By      string
		Figures struct {
			Cost struct{ Total float64 }
			Late int
		}
		Report struct {
			Late []struct {
				Line  string
				Binds []struct{ Kind, What string }
			}
		}
	}
	text := c.Get("/plans/latest").Must(http.StatusOK).Into(&latest).Text
	if latest.ID != run.ID || latest.Why != "request" || latest.State != "proposal" || latest.By != "token planner" || latest.Figures.Cost.Total != run.Cost {
		t.Errorf("the latest plan is %s", text)
	}
	if late := latest.Report.Late; len(late) != 1 || late[0].Line != "D2" || len(late[0].Binds) == 0 || latest.Figures.Late != 1 {
		t.Errorf("late lines %+v", late)
	}
	s, err := shop.Read(c.Get(fmt.Sprintf("/plans/%d/shop", run.ID)).Must(http.StatusOK).Text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Read(c.Get(fmt.Sprintf("/plans/%d/file", run.ID)).Must(http.StatusOK).Text, s)
	if err != nil {
		t.Fatal(err)
	}
	if b := check.Plan(s, p).Breaches; len(b) > 0 {
		t.Errorf("the plan file breaks %v", b)
	}
	same := c.Get(fmt.Sprintf("/plans/%d", run.ID)).Must(http.StatusOK).Text
	if !bytes.Equal(same, text) {
		t.Errorf("by its id the plan is %s, as the latest %s", same, text)
	}
}

// Plans are listed, put in force one after the other, and compared.
func TestPlans_Decide(t *testing.T) {
	h := openShop(t)
	planner := h.As(access.Planner)
	planner.Get("/plans/latest").Must(http.StatusNotFound)
	planner.Get("/plans/in-force").Must(http.StatusNotFound)
	first := planned(t, h)
	h.Clock.Advance(48 * time.Hour)
	second := planned(t, h)
	for _, id := range []int64{first.ID, second.ID} {
		planner.Do("POST", fmt.Sprintf("/plans/%d/in-force", id), nil).Must(http.StatusOK)
	}
	states := func(query string) string {
		var list struct {
			Items []struct {
				ID    int64
				State string
			}
		}
		planner.Get("/plans" + query).Must(http.StatusOK).Into(&list)
		return fmt.Sprint(list.Items)
	}
	if got, want := states(""), fmt.Sprintf("[{%d in force} {%d kept}]", second.ID, first.ID); got != want {
		t.Errorf("plans %s, want %s", got, want)
	}
	if got, want := states("?limit=1&after=2&why=request&state=kept"), fmt.Sprintf("[{%d kept}]", first.ID); got != want {
		t.Errorf("a page %s, want %s", got, want)
	}
	var difference struct {
		Lines []struct {
			Line     string
			From, To string
			Days     int
		}
		Loads []struct {
			What          string
			Before, After *struct{ Oven string }
		}
	}
	planner.Get(fmt.Sprintf("/plans/%d/difference/%d", first.ID, second.ID)).Must(http.StatusOK).Into(&difference)
	if len(difference.Lines) == 0 || difference.Lines[len(difference.Lines)-1].Line != "D2" || difference.Lines[len(difference.Lines)-1].Days != 2 {
		t.Errorf("the difference of lines is %+v", difference.Lines)
	}
	if len(difference.Loads) == 0 {
		t.Error("no load is otherwise two days later")
	}
	planner.Get(fmt.Sprintf("/plans/%d/difference/%d", first.ID, first.ID)).Must(http.StatusOK).Into(&difference)
	if len(difference.Lines)+len(difference.Loads) > 0 {
		t.Errorf("a plan differs from itself by %+v", difference)
	}
	var needs struct {
		Mandrels []struct {
			Type string
			Out  int
		}
	}
	planner.Get(fmt.Sprintf("/plans/%d/needs", first.ID)).Must(http.StatusOK).Into(&needs)
	if len(needs.Mandrels) == 0 || needs.Mandrels[0].Type != "mandrel" || needs.Mandrels[0].Out == 0 {
		t.Errorf("needs %+v", needs)
	}
}

// A plan that fails is shown with its reason, has no files, and leaves the one in force.
func TestPlans_Fail(t *testing.T) {
	var broken bool
	h := openShop(t, func(c *api.Config) {
		c.Planning.Plan = func(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
			r, err := scheduler.Plan(ctx, s, o)
			if broken {
				r.Plan.Tasks[0].Position = 9
			}
			return r, err
		}
	})
	planner := h.As(access.Planner)
	good := planned(t, h)
	planner.Do("POST", fmt.Sprintf("/plans/%d/in-force", good.ID), nil).Must(http.StatusOK)
	broken = true
	bad := planned(t, h)
	if bad.Stage != "failed" || !strings.Contains(bad.Failure, "breaks") {
		t.Errorf("the run ended %+v", bad)
	}
	var got struct {
		ID             int64
		State, Failure string
	}
	planner.Get(fmt.Sprintf("/plans/%d", bad.ID)).Must(http.StatusOK).Into(&got)
	if got.State != "failed" || got.Failure != bad.Failure {
		t.Errorf("the plan is %+v", got)
	}
	planner.Get("/plans/in-force").Must(http.StatusOK).Into(&got)
	if got.ID != good.ID {
		t.Errorf("in force is %d, want %d", got.ID, good.ID)
	}
	for _, part := range []string{"file", "shop", "needs", fmt.Sprintf("difference/%d", good.ID)} {
		planner.Get(fmt.Sprintf("/plans/%d/%s", bad.ID, part)).Must(http.StatusNotFound)
	}
	planner.Do("POST", fmt.Sprintf("/plans/%d/in-force", bad.ID), nil).Must(http.StatusConflict)
	var list struct{ Items []struct{ Kind, Text string } }
	planner.Get("/notices?limit=1").Must(http.StatusOK).Into(&list)
	if len(list.Items) != 1 || list.Items[0].Kind != "failed" || !strings.Contains(list.Items[0].Text, "could not be made") {
		t.Errorf("notices %+v", list)
	}
}

// What needs eyes is listed, and seen by whoever looks first.
func TestNotices(t *testing.T) {
	h := openShop(t)
	planned(t, h)
	type notice struct {
		ID            int64
		Kind, Subject string
		SeenBy        string `json:"seen_by"`
	}
	var list struct{ Items []notice }
	h.As(access.Station).Get("/notices?unseen=true").Must(http.StatusOK).Into(&list)
	if len(list.Items) != 1 || list.Items[0].Kind != "late" || list.Items[0].Subject != "D2" {
		t.Fatalf("notices %+v", list)
	}
	seen := fmt.Sprintf("/notices/%d/seen", list.Items[0].ID)
	for _, role := range []access.Role{access.Sales, access.Planner} {
		var got notice
		if h.As(role).Do("POST", seen, nil).Must(http.StatusOK).Into(&got); got.SeenBy != "token sales" {
			t.Errorf("seen by %q, want sales", got.SeenBy)
		}
	}
	h.As(access.Sales).Get("/notices?unseen=true").Must(http.StatusOK).Into(&list)
	if len(list.Items) > 0 {
		t.Errorf("still unseen: %+v", list)
	}
}
