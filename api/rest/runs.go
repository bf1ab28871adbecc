package rest

import (
	"context"
	"net/http"
	"strconv"

	"blankwright/api/runs"
	"blankwright/store"
)

// A runBody is a plan in the making.
type runBody struct {
	ID         int64   `json:"id" doc:"Also the id of the plan that it makes"`
	Why        string  `json:"why" enum:"tick,request,quote"`
	Stage      string  `json:"stage" enum:"waiting,taking stock,planning,checking,done,failed"`
	Cost       float64 `json:"cost" doc:"Of the best plan so far, 0 as long as there is none; the shop's money"`
	Bound      float64 `json:"bound" doc:"No plan costs less; 0 as long as nothing is proven"`
	Gap        float64 `json:"gap" doc:"(cost - bound) / cost"`
	Iterations int     `json:"iterations" doc:"Of the search, so far"`
	Of         int     `json:"of" doc:"Iterations that it is given"`
	Failure    string  `json:"failure,omitempty" doc:"Why there is no plan"`
}

type runAnswer struct{ Body runBody }

type beganRunAnswer struct {
	Location string `header:"Location" doc:"Where the run can be looked at"`
	Body     struct {
		Run    runBody `json:"run"`
		Joined bool    `json:"joined" doc:"A run went on already, and is it"`
	}
}

// A numbered thing is named by a number in the path.
type numbered struct {
	ID int64 `path:"id" minimum:"1"`
}

func planning(r *routes) {
	add(r, operation{
		name: "make-plan", method: "POST", path: "/plans", tag: "plans", status: http.StatusAccepted,
		does: "Plan the shop as it is now, in the background", more: "Where a plan is being made already, this joins its run.",
	}, r.makePlan)
	add(r, operation{
		name: "read-run", may: "read-plans", method: "GET", path: "/runs/{id}", tag: "plans", does: "Where the making of a plan stands",
	}, r.readRun)
	add(r, operation{
		name: "stop-run", method: "POST", path: "/runs/{id}/stop", tag: "plans", status: http.StatusAccepted,
		does: "End a run with the best plan that it has", more: "The run goes on until that is kept. One that is over stays as it is.",
	}, r.stopRun)
}

func (r *routes) makePlan(ctx context.Context, _ *struct{}) (*beganRunAnswer, error) {
	if _, err := r.Books.Catalog(ctx); err != nil {
		return nil, err // there is no shop to plan
	}
	run, joined, err := r.Runs.Request(ctx, runs.Ask{Why: store.PlanByRequest})
	if err != nil {
		return nil, err
	}
	answer := &beganRunAnswer{Location: Base + "/runs/" + strconv.FormatInt(run.ID, 10)}
	answer.Body.Run, answer.Body.Joined = runOf(run), joined
	return answer, nil
}

func (r *routes) readRun(ctx context.Context, in *numbered) (*runAnswer, error) {
	if run, ok := r.Runs.Run(in.ID); ok {
		return &runAnswer{runOf(run)}, nil
	}
	p, err := r.Books.Plan(ctx, in.ID) // of another server's time
	if err != nil {
		return nil, err
	}
	return &runAnswer{ranOf(&p)}, nil
}

func (r *routes) stopRun(ctx context.Context, in *numbered) (*runAnswer, error) {
	if run, ok := r.Runs.Run(in.ID); ok {
		run.Stop()
	}
	return r.readRun(ctx, in)
}

func runOf(run *runs.Run) runBody {
	p := run.Progress()
	return runBody{
		ID: run.ID, Why: run.Why, Stage: p.Stage, Cost: p.Cost, Bound: p.Bound, Gap: p.Gap,
		Iterations: p.Iterations, Of: p.Of, Failure: p.Failure,
	}
}

// ranOf tells of a run by what its plan keeps.
func ranOf(p *store.Plan) runBody {
	body := runBody{
		ID: p.ID, Why: p.Why, Stage: runs.StageDone, Cost: p.Cost.Total, Bound: p.Bound.Total, Gap: p.Bound.Gap,
		Iterations: p.Iterations, Of: p.Effort, Failure: p.Failure,
	}
	switch p.State {
	case store.PlanFailed:
		body.Stage = runs.StageFailed
	case store.PlanRunning:
		body.Stage = runs.StageWaiting
	}
	return body
}
