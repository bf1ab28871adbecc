package rest

import (
	"context"
	"fmt"
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/rest/schema"
	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A planBody is a plan as the books know it.
type planBody struct {
	ID      int64        `json:"id"`
	Why     string       `json:"why" enum:"tick,request,quote"`
	State   string       `json:"state" enum:"running,proposal,in force,kept,failed" doc:"One at most is in force, and one a proposal; kept ones have been replaced"`
	By      string       `json:"by" doc:"Who asked for it"`
	AskedAt time.Time    `json:"asked_at"`
	EndedAt *time.Time   `json:"ended_at,omitempty" doc:"Absent while it is being made"`
	Failure string       `json:"failure,omitempty" doc:"Why it was not made"`
	Figures *figuresBody `json:"figures,omitempty" doc:"Absent unless it was made"`
	// Report is absent in lists, too.
	Report *runs.Report `json:"report,omitempty" doc:"Cost by term, and the late lines with what binds them; not in lists"`
}

type figuresBody struct {
	Now        time.Time  `json:"now" doc:"The instant from which it plans"`
	Seed       uint64     `json:"seed"`
	Effort     int        `json:"effort" doc:"Iterations that it was given: with these and the seed, the same shop file gives the same plan"`
	Iterations int        `json:"iterations" doc:"Iterations that it took"`
	Stopped    string     `json:"stopped" doc:"Why the search ended: effort, stop or bound"`
	Cost       plan.Cost  `json:"cost"`
	Bound      plan.Bound `json:"bound"`
	Loads      int        `json:"loads"`
	Late       int        `json:"late" doc:"Lines that are late or not wholly planned"`
}

type planAnswer struct{ Body planBody }

type plansInput struct {
	Why   string `query:"why" enum:"tick,request,quote"`
	State string `query:"state" enum:"running,proposal,in force,kept,failed"`
	Older
}

func plans(r *routes) {
	add(r, operation{
		name: "list-plans", may: "read-plans", method: "GET", path: "/plans", tag: "plans", does: "All plans that were asked for",
	}, r.listPlans)
	add(r, operation{
		name: "read-latest-plan", may: "read-plans", method: "GET", path: "/plans/latest", tag: "plans", shape: mayLack,
		does: "The plan that was made last", more: "In force or not; quotes are left out.",
	}, func(ctx context.Context, _ *struct{}) (*planAnswer, error) {
		return r.answerPlan(ctx)(r.Books.LatestPlan(ctx))
	})
	add(r, operation{
		name: "read-plan-in-force", may: "read-plans", method: "GET", path: "/plans/in-force", tag: "plans", shape: mayLack,
		does: "The plan that the shop works by",
	}, func(ctx context.Context, _ *struct{}) (*planAnswer, error) {
		return r.answerPlan(ctx)(r.Books.PlanInForce(ctx))
	})
	add(r, operation{
		name: "read-plan", may: "read-plans", method: "GET", path: "/plans/{id}", tag: "plans", does: "One plan",
	}, func(ctx context.Context, in *numbered) (*planAnswer, error) {
		return r.answerPlan(ctx)(r.Books.Plan(ctx, in.ID))
	})
	add(r, operation{
		name: "put-plan-in-force", method: "POST", path: "/plans/{id}/in-force", tag: "plans",
		does: "Have the shop work by a plan, in the place of the one before",
	}, func(ctx context.Context, in *numbered) (*planAnswer, error) {
		return r.answerPlan(ctx)(r.Books.PutInForce(ctx, in.ID))
	})
	add(r, operation{
		name: "read-plan-file", may: "read-plans", method: "GET", path: "/plans/{id}/file", tag: "plans", shape: aFile("A plan file, blankwright/plan/1", reflect.TypeFor[plan.Plan]()),
		does: "A plan as a file",
	}, r.planFile)
	add(r, operation{
		name: "read-plan-shop", may: "read-plans", method: "GET", path: "/plans/{id}/shop", tag: "plans", shape: aFile("A shop file, blankwright/shop/1", reflect.TypeFor[shop.Shop]()),
		does: "The shop file that a plan was made for",
	}, r.planShop)
}

// mayLack documents that there may be none.
func mayLack(o *huma.Operation) { o.Errors = append(o.Errors, 404) }

// aFile documents an answer that is a file.
func aFile(what string, form reflect.Type) func(*huma.Operation) {
	return func(o *huma.Operation) {
		o.Responses = map[string]*huma.Response{"200": jsonResponse(what, schema.Of(form))}
	}
}

func (r *routes) listPlans(ctx context.Context, in *plansInput) (*listAnswer[planBody], error) {
	list, err := r.Books.Plans(ctx, store.PlanFilter{Why: in.Why, State: in.State, Limit: in.Limit, After: in.After})
	return older(in.Older, list, err, planOf, func(p *store.Plan) int64 { return p.ID })
}

// answerPlan answers with a plan and its report.
func (r *routes) answerPlan(ctx context.Context) func(store.Plan, error) (*planAnswer, error) {
	return func(p store.Plan, err error) (*planAnswer, error) {
		if err != nil {
			return nil, err
		}
		answer := &planAnswer{planOf(&p)}
		if answer.Body.Figures == nil {
			return answer, nil
		}
		view, err := r.Runs.Views().Plan(ctx, p.ID)
		if err != nil {
			return nil, err
		}
		answer.Body.Report = &view.Report
		return answer, nil
	}
}

func planOf(p *store.Plan) planBody {
	body := planBody{ID: p.ID, Why: p.Why, State: p.State, By: p.By, AskedAt: p.AskedAt, EndedAt: when(p.EndedAt), Failure: p.Failure}
	if p.State != store.PlanRunning && p.State != store.PlanFailed {
		body.Figures = (*figuresBody)(&p.Figures)
	}
	return body
}

// when returns a time that may be absent.
func when(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

func (r *routes) planFile(ctx context.Context, in *numbered) (*fileAnswer, error) {
	files, err := r.Books.PlanFiles(ctx, in.ID)
	return answerFile(fmt.Sprintf("plan-%d.plan.json", in.ID), files.Plan, err)
}

func (r *routes) planShop(ctx context.Context, in *numbered) (*fileAnswer, error) {
	files, err := r.Books.PlanFiles(ctx, in.ID)
	return answerFile(fmt.Sprintf("plan-%d.json", in.ID), files.Shop, err)
}

func answerFile(name string, text []byte, err error) (*fileAnswer, error) {
	return &fileAnswer{ContentType: "application/json", Disposition: fmt.Sprintf("attachment; filename=%q", name), Body: text}, err
}
