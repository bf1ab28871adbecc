package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
	"blankwright/api/runs"
	"blankwright/store"
)

// PlansBooks are what the pages about plans ask of the books.
type PlansBooks interface {
	Plan(ctx context.Context, id int64) (store.Plan, error)
	Plans(ctx context.Context, f store.PlanFilter) ([]store.Plan, error)
	PutInForce(ctx context.Context, id int64) (store.Plan, error)
}

func (p *pages) planRoutes() []route {
	return []route{
		get("/plans", "see-pages", p.plans),
		post("/plans", "make-plan", p.makePlan),
		get("/plans/compare", "see-pages", p.compare),
		post("/plans/:id/take", "put-plan-in-force", p.take),
		get("/runs/:id", "see-pages", p.run),
	}
}

// idIn reads the number of a plan, run or release out of an address.
func idIn(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, fmt.Errorf("%q is no number of anything: %w", text, store.ErrNotFound)
	}
	return id, nil
}

// wrongAddress says what of an address makes no sense.
func wrongAddress(err error) error { return respond.New(http.StatusBadRequest, err.Error()) }

const plansAtOnce = 50

func (p *pages) plans(c *gin.Context) {
	filter := store.PlanFilter{Limit: plansAtOnce}
	if text := c.Query("after"); text != "" {
		id, err := idIn(text)
		if err != nil {
			p.fail(c, err)
			return
		}
		filter.After = id
	}
	list, err := p.Books.Plans(c.Request.Context(), filter)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &PlansPage{Frame: p.frame(c, "Plans", "/day"), Plans: list, May: planning(c)}
	if len(list) == plansAtOnce {
		page.Older = fmt.Sprintf("/plans?after=%d", list[len(list)-1].ID)
	}
	p.show(c, http.StatusOK, "plans", page)
}

// makePlan has a plan made, or joins the run that makes one.
func (p *pages) makePlan(c *gin.Context) {
	run, joined, err := p.Runs.Request(c.Request.Context(), runs.Ask{Why: store.PlanByRequest})
	switch {
	case err != nil:
		p.fail(c, err)
		return
	case joined:
		done(c, runAddress(run.ID), "A plan was being made already: this is it.")
		return
	}
	c.Redirect(http.StatusSeeOther, runAddress(run.ID))
}

// run shows how far a run is; once the plan is there it leads to what is new.
func (p *pages) run(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	run, ok := p.Runs.Run(id)
	if !ok {
		c.Redirect(http.StatusSeeOther, fmt.Sprintf("/day?plan=%d", id))
		return
	}
	progress := run.Progress()
	then := p.thenOf(c.Request.Context(), id)
	if back := c.Query("then"); back != "" {
		then = local(back)
	}
	switch {
	case strings.Contains(c.GetHeader("Accept"), "application/json"):
		c.JSON(http.StatusOK, gin.H{
			"iteration": progress.Iterations, "effort": progress.Of, "text": progressText(progress),
			"ended": progress.Stage == runs.StageDone, "failed": progress.Stage == runs.StageFailed, "then": then,
		})
	case progress.Stage == runs.StageDone:
		c.Redirect(http.StatusSeeOther, then)
	default:
		page := &RunPage{Frame: p.frame(c, "A plan is being made", "/day"), ID: id, Progress: progress, Ask: runAddress(id), Then: runAddress(id)}
		page.Refresh = lookAgain
		p.show(c, http.StatusOK, "run", page)
	}
}

// lookAgain is after how many seconds a browser without script asks again.
const lookAgain = 3

// thenOf is where a plan that was just made is shown: against the one before it.
func (p *pages) thenOf(ctx context.Context, id int64) string {
	before, err := p.Books.Plans(ctx, store.PlanFilter{After: id, Limit: lookBack})
	if err == nil {
		for _, old := range before {
			if old.Why != store.PlanByQuote && old.State != store.PlanFailed && old.State != store.PlanRunning {
				return fmt.Sprintf("/plans/compare?from=%d&to=%d", old.ID, id)
			}
		}
	}
	return fmt.Sprintf("/day?plan=%d", id)
}

func (p *pages) compare(c *gin.Context) {
	page := &ComparePage{Frame: p.frame(c, "Two plans", "/day"), May: planning(c)}
	var views [2]*runs.View
	for i, name := range []string{"from", "to"} {
		id, err := idIn(c.Query(name))
		if err != nil {
			p.fail(c, err)
			return
		}
		plan, err := p.Books.Plan(c.Request.Context(), id)
		if err == nil {
			views[i], err = p.Runs.Views().Plan(c.Request.Context(), id)
		}
		if err != nil {
			p.fail(c, err)
			return
		}
		if page.After = &plan; i == 0 {
			page.Before = &plan
		}
	}
	page.Title = fmt.Sprintf("Plan %d against plan %d", page.After.ID, page.Before.ID)
	page.Difference = runs.Compare(views[0].Shop, views[0].Plan, views[1].Shop, views[1].Plan)
	p.show(c, http.StatusOK, "compare", page)
}

func (p *pages) take(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err == nil {
		_, err = p.Books.PutInForce(c.Request.Context(), id)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	done(c, fmt.Sprintf("/day?plan=%d", id), fmt.Sprintf("Plan %d is in force.", id))
}
