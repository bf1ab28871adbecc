package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// DayBooks are what the planner's page asks of the books.
type DayBooks interface {
	Plan(ctx context.Context, id int64) (store.Plan, error)
	Plans(ctx context.Context, f store.PlanFilter) ([]store.Plan, error)
	LatestPlan(ctx context.Context) (store.Plan, error)
	Notices(ctx context.Context, f store.NoticeFilter) ([]store.Notice, error)
	SeeNotice(ctx context.Context, id int64) (store.Notice, error)
}

func (p *pages) dayRoutes() []route {
	return []route{
		get("/day", "see-pages", p.day),
		get("/eyes", "see-pages", p.eyes),
		post("/eyes/:id/seen", "see-notice", p.seen),
		get("/plans/show/:id/late", "see-pages", p.late),
	}
}

// day shows one working day of a plan: the next, of the latest plan, unless the
// address says otherwise.
func (p *pages) day(c *gin.Context) { p.dayPage(c, refusal{status: http.StatusOK}) }

func (p *pages) dayPage(c *gin.Context, again refusal) {
	ctx := c.Request.Context()
	page := &DayPage{Frame: p.frame(c, "The next working day", "/day"), May: planning(c)}
	plan, view, err := p.chosen(c)
	switch {
	case errors.Is(err, store.ErrNotFound) && c.Query("plan") == "":
		p.show(c, http.StatusOK, "day", page)
		return
	case err != nil:
		p.fail(c, err)
		return
	}
	date, err := dateOf(c, view)
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Plan = &plan
	if run := p.Runs.Current(); run != nil {
		page.Running = runAddress(run.ID)
	}
	if page.Eyes, err = p.Books.Notices(ctx, store.NoticeFilter{}); err != nil {
		p.fail(c, err)
		return
	}
	if err := p.addHeld(ctx, page); err != nil {
		p.fail(c, err)
		return
	}
	page.Moved, page.Compared = p.since(ctx, view)
	named := *view
	if named.Plan, err = p.asReleased(ctx, view); err != nil {
		p.fail(c, err)
		return
	}
	page.Show(&named, date)
	if err := p.addDeeds(c, page, view, &again); err != nil {
		p.fail(c, err)
		return
	}
	if again.status != http.StatusOK {
		page.Path, page.Wrong = "/day", "Nothing was changed. What is wrong stands further down, at what you typed."
	}
	p.show(c, again.status, "day", page)
}

// planning says what the caller may do with plans.
func planning(c *gin.Context) Planning {
	return Planning{Plan: may(c, "make-plan"), Release: may(c, "put-plan-in-force"), Change: may(c, "change-catalog"), Hold: may(c, "hold-lines")}
}

// chosen returns the plan that the address names, or the latest.
func (p *pages) chosen(c *gin.Context) (store.Plan, *runs.View, error) {
	ctx := c.Request.Context()
	id, err := idIn(c.Query("plan"))
	if c.Query("plan") == "" {
		var latest store.Plan
		latest, err = p.Books.LatestPlan(ctx)
		id = latest.ID
	}
	if err != nil {
		return store.Plan{}, nil, err
	}
	plan, err := p.Books.Plan(ctx, id)
	if err != nil {
		return plan, nil, err
	}
	view, err := p.Runs.Views().Plan(ctx, id)
	return plan, view, err
}

// dateOf is the day that the address names, or the next with work.
func dateOf(c *gin.Context, view *runs.View) (shop.Date, error) {
	if text := c.Query("date"); text != "" {
		var date shop.Date
		if err := date.UnmarshalText([]byte(text)); err != nil {
			return 0, wrongAddress(err)
		}
		return date, nil
	}
	if date, ok := sheet.Next(view.Shop, view.Plan); ok {
		return date, nil
	}
	return view.Shop.Today() + 1, nil
}

// since compares a plan with the one that was made before it, and says where
// all of that is shown; nil where there is none that can be read.
func (p *pages) since(ctx context.Context, view *runs.View) (*runs.Difference, string) {
	before, err := p.Books.Plans(ctx, store.PlanFilter{After: view.ID, Limit: lookBack})
	if err != nil {
		return nil, ""
	}
	for _, old := range before {
		if old.Why == store.PlanByQuote || old.State == store.PlanFailed || old.State == store.PlanRunning {
			continue
		}
		was, err := p.Runs.Views().Plan(ctx, old.ID)
		if err != nil {
			return nil, ""
		}
		d := runs.Compare(was.Shop, was.Plan, view.Shop, view.Plan)
		return &d, fmt.Sprintf("/plans/compare?from=%d&to=%d", old.ID, view.ID)
	}
	return nil, ""
}

// lookBack is among how many earlier plans one to compare with is looked for.
const lookBack = 12

func runAddress(id int64) string { return fmt.Sprintf("/runs/%d", id) }

// asReleased returns a view's plan with its loads named as they were released:
// so are they called at the stations, and so do their codes scan.
func (p *pages) asReleased(ctx context.Context, view *runs.View) (*plan.Plan, error) {
	as, err := p.Books.ReleasedAs(ctx, view.ID)
	if err != nil {
		return nil, err
	}
	name := func(load string) string { return cmp.Or(as[load], load) }
	if !slices.ContainsFunc(view.Plan.Loads, func(l shop.Load) bool { return name(l.ID) != l.ID }) {
		return view.Plan, nil
	}
	out := *view.Plan
	out.Loads, out.Tasks = slices.Clone(out.Loads), slices.Clone(out.Tasks)
	for i := range out.Loads {
		out.Loads[i].ID = name(out.Loads[i].ID)
	}
	for i := range out.Tasks {
		out.Tasks[i].Load = name(out.Tasks[i].Load)
	}
	return &out, nil
}
