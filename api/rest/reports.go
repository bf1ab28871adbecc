package rest

import (
	"context"
	"net/http"
	"time"

	"blankwright/store"
)

// A reportBody is one entry of what the floor reported.
type reportBody struct {
	ID        int64     `json:"id"`
	What      string    `json:"what" enum:"begun,done,in,out,corrected"`
	Load      string    `json:"load"`
	Task      int64     `json:"task,omitempty" doc:"Absent of a load's own"`
	At        time.Time `json:"at" doc:"When it happened"`
	Good      int       `json:"good" doc:"Of a task that is done: pieces that go on"`
	Dead      int       `json:"dead" doc:"At pull: pieces scrapped before, on their mandrels"`
	Scrap     []scrap   `json:"scrap"`
	Corrects  int64     `json:"corrects,omitempty" doc:"The report that this one corrects"`
	Withdrawn bool      `json:"withdrawn" doc:"Of a correction: what the other one says never happened"`
	Reason    string    `json:"reason,omitempty" doc:"Of a correction"`
	Entered   time.Time `json:"entered"`
	By        string    `json:"by"`
}

// A scrap is pieces that were scrapped for one reason.
type scrap struct {
	Reason string `json:"reason" enum:"wrinkle,void,delamination,resin-rich,starved,tape ridge,soft spot,under-cure,bow,off-spine,stuck,split,crushed tip,mis-tack,wrong flag"`
	Pieces int    `json:"pieces" minimum:"1" maximum:"1000000"`
}

type reportAnswer struct{ Body reportBody }

type reportsInput struct {
	Load string `query:"load" maxLength:"200"`
	Task int64  `query:"task" minimum:"1"`
	Older
}

// A moment is when something happened.
type moment struct {
	At *time.Time `json:"at,omitempty" doc:"When it happened; absent: now"`
}

// instant returns it, zero where nothing was said.
func (m *moment) instant() time.Time {
	if m == nil {
		return time.Time{}
	}
	return instantOf(m.At)
}

type begunInput struct {
	ID int64 `path:"id" minimum:"1" doc:"The task's id"`
	Once
	Body *moment
}

type doneInput struct {
	ID int64 `path:"id" minimum:"1" doc:"The task's id"`
	Once
	Body struct {
		At    *time.Time `json:"at,omitempty" doc:"When it happened; absent: now"`
		Good  int        `json:"good" minimum:"0" maximum:"1000000" doc:"Pieces that go on"`
		Scrap []scrap    `json:"scrap,omitempty" maxItems:"15" doc:"Pieces that do not, each reason once; with the good ones they are all that the task has"`
		Dead  int        `json:"dead,omitempty" minimum:"0" maximum:"1000000" doc:"At pull: pieces scrapped before, on their mandrels"`
	}
}

type ovenInput struct {
	ID string `path:"id" maxLength:"200" doc:"The load's id"`
	Once
	Body *moment
}

type correctionInput struct {
	ID int64 `path:"id" minimum:"1" doc:"The id of the report that was wrong"`
	Once
	Body struct {
		Reason   string     `json:"reason" minLength:"1" maxLength:"200" doc:"What was wrong with it"`
		Withdraw bool       `json:"withdraw,omitempty" doc:"What it says never happened"`
		At       *time.Time `json:"at,omitempty" doc:"When it happened; absent: as reported"`
		Good     int        `json:"good,omitempty" minimum:"0" maximum:"1000000" doc:"Of a task that is done: in full, as it should have been"`
		Scrap    []scrap    `json:"scrap,omitempty" maxItems:"15"`
		Dead     int        `json:"dead,omitempty" minimum:"0" maximum:"1000000"`
	}
}

func reports(r *routes) {
	add(r, operation{
		name: "report-begun", method: "POST", path: "/tasks/{id}/begun", tag: "floor", status: http.StatusCreated,
		does: "Report that a task was begun",
	}, func(ctx context.Context, in *begunInput) (*reportAnswer, error) {
		return answerReport(r.Books.ReportBegun(in.in(ctx), in.ID, in.Body.instant()))
	})
	add(r, operation{
		name: "report-done", method: "POST", path: "/tasks/{id}/done", tag: "floor", status: http.StatusCreated,
		does: "Report that a task is done, and what became of its pieces",
		more: "Good pieces go on to the next stage; what is scrapped is missing from there on. Trimmed pieces that make a set are stock.",
	}, func(ctx context.Context, in *doneInput) (*reportAnswer, error) {
		return answerReport(r.Books.ReportDone(in.in(ctx), store.TaskReport{
			Task: in.ID, At: instantOf(in.Body.At), Good: in.Body.Good, Scrap: scrapOf(in.Body.Scrap), Dead: in.Body.Dead,
		}))
	})
	add(r, operation{
		name: "report-in", method: "POST", path: "/loads/{id}/in", tag: "floor", status: http.StatusCreated,
		does: "Report that a load went into its oven", more: "It says what happened; it starts, holds and clears nothing.",
	}, func(ctx context.Context, in *ovenInput) (*reportAnswer, error) {
		return answerReport(r.Books.ReportIn(in.in(ctx), in.ID, in.Body.instant()))
	})
	add(r, operation{
		name: "report-out", method: "POST", path: "/loads/{id}/out", tag: "floor", status: http.StatusCreated,
		does: "Report that a load is out of its oven", more: "It says what happened; it starts, holds and clears nothing.",
	}, func(ctx context.Context, in *ovenInput) (*reportAnswer, error) {
		return answerReport(r.Books.ReportOut(in.in(ctx), in.ID, in.Body.instant()))
	})
	add(r, operation{
		name: "correct-report", method: "POST", path: "/reports/{id}/correction", tag: "floor", status: http.StatusCreated,
		does: "Say what a report should have said", more: "Nothing is deleted: both stay. One that later reports do not allow is refused, and says what to correct first.",
	}, r.correct)
	add(r, operation{
		name: "list-reports", may: "read-floor", method: "GET", path: "/reports", tag: "floor", does: "What the floor reported",
	}, r.listReports)
}

func (r *routes) correct(ctx context.Context, in *correctionInput) (*reportAnswer, error) {
	return answerReport(r.Books.Correct(in.in(ctx), store.Correction{
		Report: in.ID, Reason: in.Body.Reason, Withdraw: in.Body.Withdraw, At: instantOf(in.Body.At),
		Good: in.Body.Good, Scrap: scrapOf(in.Body.Scrap), Dead: in.Body.Dead,
	}))
}

func (r *routes) listReports(ctx context.Context, in *reportsInput) (*listAnswer[reportBody], error) {
	list, err := r.Books.Reports(ctx, store.ReportFilter{Load: in.Load, Task: in.Task, Before: in.After, Limit: in.Limit})
	return older(in.Older, list, err, reportOf, func(r *store.Report) int64 { return r.ID })
}

func answerReport(report store.Report, err error) (*reportAnswer, error) {
	return &reportAnswer{reportOf(&report)}, err
}

func reportOf(r *store.Report) reportBody {
	body := reportBody{
		ID: r.ID, What: r.What, Load: r.Load, Task: r.Task, At: r.At, Good: r.Good, Dead: r.Dead, Scrap: make([]scrap, len(r.Scrap)),
		Corrects: r.Corrects, Withdrawn: r.Withdrawn, Reason: r.Reason, Entered: r.Entered, By: r.By,
	}
	for i, s := range r.Scrap {
		body.Scrap[i] = scrap(s)
	}
	return body
}

func scrapOf(list []scrap) []store.Scrap {
	out := make([]store.Scrap, len(list))
	for i, s := range list {
		out[i] = store.Scrap(s)
	}
	return out
}

// instantOf returns a time that may be absent, zero then.
func instantOf(t *time.Time) time.Time {
	if t == nil {
		return time.Time{}
	}
	return *t
}
