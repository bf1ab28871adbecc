package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A FloorLoadPage is one released load with all its tasks: where a scanned
// code leads.
type FloorLoadPage struct {
	Frame
	Load    string
	Section string // only its tasks are shown, where it is not empty
	Oven    string
	State   string
	Tasks   []TaskView
	Reports []ReportRow // that it went in and came out, and what was put right of that
	Correct bool
}

// Render writes the page.
func (p *FloorLoadPage) Render(w io.Writer) error { return render(w, "floor-load", p) }

// A TaskPage is one task with what was reported of it, to be put right.
type TaskPage struct {
	Frame
	Task    TaskView
	Reports []ReportRow
	Correct bool
	Reasons []string
	Rows    []int
}

// A ReportRow is one report.
type ReportRow struct {
	Event
	ID      int64
	Correct bool // it can be put right
	Pieces  bool // it told of pieces
}

// Render writes the page.
func (p *TaskPage) Render(w io.Writer) error { return render(w, "floor-task", p) }

// A ReportPage says why a report was not taken.
type ReportPage struct {
	Frame
	Back   string
	Action string  // of the form with what was typed
	Fields []Field // none where nothing was
}

// Render writes the page.
func (p *ReportPage) Render(w io.Writer) error { return render(w, "report", p) }

func (p *pages) floorLoad(c *gin.Context) { p.floorLoadPage(c, c.Param("id"), http.StatusOK, "") }

func (p *pages) floorLoadPage(c *gin.Context, id string, status int, wrong string) {
	ctx := c.Request.Context()
	l, err := p.Books.FloorLoad(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &FloorLoadPage{Frame: p.frame(c, "Load "+l.Planned.ID, "/floor"), Load: l.Planned.ID, Section: c.Query("section"), Oven: l.Planned.Oven, State: stateOf(&l)}
	wrappings := p.tapes(ctx)
	for i := range l.Tasks {
		if page.Section == "" || l.Tasks[i].Section == page.Section {
			page.Tasks = append(page.Tasks, taskView(&l.Tasks[i], wrappings, page.zone()))
		}
	}
	page.Wrong, page.Correct = wrong, may(c, "correct-report")
	if page.Reports, err = p.ovenReports(ctx, l.Planned.ID); err != nil {
		p.fail(c, err)
		return
	}
	p.show(c, status, "floor-load", page)
}

func (p *pages) task(c *gin.Context) { p.taskPage(c, c.Param("id"), http.StatusOK, "") }

func (p *pages) taskPage(c *gin.Context, number string, status int, wrong string) {
	ctx := c.Request.Context()
	id, err := idIn(number)
	if err != nil {
		p.fail(c, err)
		return
	}
	t, err := p.Books.FloorTask(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &TaskPage{Frame: p.frame(c, "Task "+number, "/floor"), Correct: may(c, "correct-report"), Reasons: store.Defects(), Rows: []int{1, 2, 3}}
	page.Wrong = wrong
	page.Task = taskView(&t, p.tapes(ctx), page.zone())
	reports, err := p.Books.Reports(ctx, store.ReportFilter{Task: id})
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Reports = reportRows(reports)
	p.show(c, status, "floor-task", page)
}

// ovenReports are what was reported of a load itself, the newest first, without
// those of its tasks.
func (p *pages) ovenReports(ctx context.Context, load string) ([]ReportRow, error) {
	var own []store.Report
	filter := store.ReportFilter{Load: load}
	for {
		some, err := p.Books.Reports(ctx, filter)
		if err != nil {
			return nil, err
		}
		for _, r := range some {
			if r.Task == 0 {
				own = append(own, r)
			}
		}
		if len(some) < store.MaxPage {
			return reportRows(own), nil
		}
		filter.Before = some[len(some)-1].ID
	}
}

// reportRows tells of reports, the newest first.
func reportRows(reports []store.Report) []ReportRow {
	var out []ReportRow
	for _, r := range reports {
		row := ReportRow{ID: r.ID, Correct: r.Corrects == 0, Pieces: r.What == "done"}
		row.Event = Event{At: r.At, By: r.By, What: r.What, Note: r.Reason}
		if row.Pieces || r.Corrects != 0 && r.Task != 0 && !r.Withdrawn {
			row.What += ": " + piecesText(r)
		}
		if r.Withdrawn {
			row.What += ": it never happened"
		}
		out = append(out, row)
	}
	return out
}

func piecesText(r store.Report) string {
	parts := []string{fmt.Sprintf("%d good", r.Good)}
	for _, s := range r.Scrap {
		parts = append(parts, fmt.Sprintf("%d scrapped, %s", s.Pieces, s.Reason))
	}
	return strings.Join(parts, "; ")
}

// correct puts a report right, or takes it back.
func (p *pages) correct(c *gin.Context) {
	ctx := c.Request.Context()
	id, err := idIn(c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	correction := store.Correction{Report: id, Reason: strings.TrimSpace(c.PostForm("why")), Withdraw: c.PostForm("withdraw") != ""}
	if correction.Good, correction.Dead, correction.Scrap, err = piecesOf(c); err == nil {
		_, err = p.Books.Correct(ctx, correction)
	}
	task, load := c.PostForm("task"), c.PostForm("load")
	if err == nil {
		to := "/floor/tasks/" + numberOf(task)
		if load != "" {
			to = "/floor/loads/" + url.PathEscape(load)
		}
		done(c, to, "The report is corrected.")
		return
	}
	var f filled
	whole, status, ours := f.refused(ctx, p.Log, err, nil)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	if load != "" {
		p.floorLoadPage(c, load, status, whole)
		return
	}
	p.taskPage(c, task, status, whole)
}

// numberOf keeps an address from leading anywhere but to a number.
func numberOf(text string) string {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return "0"
	}
	return strconv.FormatInt(n, 10)
}

// Queue is the address of the task's queue on a day.
func (t *TaskView) Queue(zone *Frame) string {
	var stage shop.Stage
	if stage.UnmarshalText([]byte(t.Stage)) != nil {
		return "/floor"
	}
	return queueAddress(stage, t.Position, shop.DateAt(t.Start.Minute, zone.zone()))
}
