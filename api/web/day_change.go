package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// ReleaseBooks are what release and change ask of the books.
type ReleaseBooks interface {
	Release(ctx context.Context, planID int64, until time.Time) (store.Release, error)
	Unrelease(ctx context.Context, id int64) error
	Releases(ctx context.Context, before int64, limit int) ([]store.Release, error)
	FloorLoad(ctx context.Context, id string) (store.FloorLoad, error)
	ReleasedAs(ctx context.Context, plan int64) (map[string]string, error)
}

func (p *pages) releaseRoutes() []route {
	return []route{
		post("/plans/:id/release", "release", p.release),
		post("/releases/:id/undo", "undo-release", p.undoRelease),
		post("/change/line", "change-orders", p.changeDue),
		post("/change/closure", "change-downtime", p.addClosure),
		post("/change/shift", "change-catalog", p.addShift),
	}
}

// releasesShown is how many of the last releases stand on the planner's page.
const releasesShown = 5

// addDeeds puts what the caller can do from the planner's page on it, and the
// form that was refused as it was sent.
func (p *pages) addDeeds(c *gin.Context, page *DayPage, view *runs.View, again *refusal) error {
	if page.May.Release {
		releases, err := p.Books.Releases(c.Request.Context(), 0, releasesShown)
		if err != nil {
			return err
		}
		loads, err := p.Books.FloorLoads(c.Request.Context())
		if err != nil {
			return err
		}
		page.Released = unfinished(releases, loads)
	}
	if page.May.Change {
		page.Changes, page.Lists = changeForms(view.Shop), []IDList{linesOf(view.Shop)}
		for i := range page.Changes {
			again.into(&page.Changes[i], page.Changes[i].name())
		}
	}
	return nil
}

// unfinished are the releases of which something is still to be done, and whether
// something of them was begun.
func unfinished(releases []store.Release, loads []store.FloorLoad) []ReleaseRow {
	var out []ReleaseRow
	for _, r := range releases {
		row, left := ReleaseRow{ID: r.ID, At: r.At, By: r.By, Until: r.Until, Loads: len(r.Loads)}, false
		for i := range loads {
			if l := &loads[i]; l.Release == r.ID {
				left = left || l.Finished.IsZero()
				row.Begun = row.Begun || l.WentIn || slices.ContainsFunc(l.Tasks, func(t store.Task) bool { return t.State != store.TaskWaiting })
			}
		}
		if left && r.Undone.IsZero() {
			out = append(out, row)
		}
	}
	return out
}

// linesOf proposes the lines that a plan was made for.
func linesOf(s *shop.Shop) IDList {
	list := IDList{ID: "lines"}
	for i := range s.Demand {
		list.IDs = append(list.IDs, s.Demand[i].ID)
	}
	return list
}

// changeForms are the changes that a planner makes most, each a form.
func changeForms(s *shop.Shop) []ChangeForm {
	line := Field{Name: "line", Label: "Line", Kind: "text", List: "lines", Required: true, Hint: "As the lists above name it."}
	what := Field{Name: "resource", Label: "What is closed", Kind: "select", Required: true, Options: []Option{{"", "–"}}}
	for _, o := range s.Ovens {
		what.Options = append(what.Options, Option{"oven:" + o.ID, "oven " + o.ID})
	}
	for _, stage := range shop.Stages() {
		what.Options = append(what.Options, Option{stage.String(), stage.String() + ", all positions"})
		for n := 1; n <= s.Stations.At(stage).Positions; n++ {
			position := fmt.Sprintf("%s/%d", stage, n)
			what.Options = append(what.Options, Option{position, position})
		}
	}
	crew := Field{Name: "crew", Label: "Crew", Kind: "select", Required: true, Options: []Option{{"", "–"}}}
	for _, one := range s.Crews {
		crew.Options = append(crew.Options, Option{one.ID, one.ID})
	}
	return []ChangeForm{
		{Title: "Move a line's due date or weight", Action: "/change/line", Button: "Change the line", Fields: []Field{
			line,
			{Name: "due", Label: "Due", Kind: "date", Hint: "Empty: as it is."},
			{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0", Hint: "0: being late costs nothing. Empty: as it is."},
		}},
		{Title: "Hold a line back", Action: "/change/hold", Button: "Hold it back", Fields: append([]Field{line}, holdFields()...)},
		{Title: "Close an oven or station for a time", Action: "/change/closure", Button: "Close it", Fields: []Field{
			what,
			{Name: "from", Label: "From", Kind: "datetime-local", Required: true},
			{Name: "to", Label: "To", Kind: "datetime-local", Required: true},
			{Name: "why", Label: "Why", Kind: "text"},
		}},
		{Title: "Add a shift", Action: "/change/shift", Button: "Add the shift", Fields: []Field{
			crew,
			{Name: "people", Label: "People", Kind: "number", Least: "1", Required: true},
			{Name: "date", Label: "Day", Kind: "date", Required: true},
			{Name: "from", Label: "From", Kind: "time", Required: true},
			{Name: "to", Label: "To", Kind: "time", Required: true},
			{Name: "open", Label: "Open their stations and ovens then, too", Kind: "check", Value: "true", Hint: "They have calendars of their own; what is closed then has no use for the people."},
		}},
	}
}

// release freezes what of a plan begins before an instant.
func (p *pages) release(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	f := p.frame(c, "", "")
	until, err := time.ParseInLocation(localForm, c.PostForm("until"), f.zone())
	if err != nil {
		p.fail(c, strict.Problems{{Path: "until", Message: "is no local date and time, as 2026-11-28T00:00"}})
		return
	}
	released, err := p.Books.Release(c.Request.Context(), id, until)
	if err != nil {
		p.fail(c, err)
		return
	}
	done(c, fmt.Sprintf("/day?plan=%d", id), fmt.Sprintf("Released: %s. They are in the stations' queues.", strings.Join(released.Loads, ", ")))
}

func (p *pages) undoRelease(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err == nil {
		err = p.Books.Unrelease(c.Request.Context(), id)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/day", fmt.Sprintf("Release %d is undone.", id))
}

// refuseChange shows the planner's page again with the form that was refused.
func (p *pages) refuseChange(c *gin.Context, name string, err error) {
	f := filled{values: c.Request.PostForm}
	var fields []Field
	for _, form := range changeForms(&shop.Shop{}) {
		if form.name() == name {
			fields = form.Fields
		}
	}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	p.dayPage(c, refusal{status: status, form: name, filled: f, whole: whole})
}

// name is by which a refused form is found again.
func (f *ChangeForm) name() string { return path.Base(f.Action) }

// changeDue moves a line's due date or weight; what is left empty stays.
func (p *pages) changeDue(c *gin.Context) {
	ctx, id := c.Request.Context(), strings.TrimSpace(c.PostForm("line"))
	l, err := p.Books.Line(ctx, id)
	terms := store.LineTerms{Product: l.Product, Quantity: l.Quantity, Due: l.Due, Weight: &l.Weight, Promised: l.Promised}
	problems := otherTerms(c, &terms)
	if errors.Is(err, store.ErrNotFound) {
		problems, err = append(problems, strict.Problem{Path: "line", Message: fmt.Sprintf("there is no line %q", id)}), nil
	}
	if err == nil {
		err = orNil(problems)
	}
	if err == nil {
		_, err = p.Books.ChangeLine(ctx, l.ID, terms, l.Rev)
	}
	if err != nil {
		p.refuseChange(c, "line", err)
		return
	}
	done(c, "/day", "Line "+l.ID+" is changed. Plan again to see what that does.")
}

// otherTerms puts into a line's terms what was typed, and says what of it is
// wrong.
func otherTerms(c *gin.Context, terms *store.LineTerms) (problems strict.Problems) {
	if text := c.PostForm("due"); text != "" {
		if err := terms.Due.UnmarshalText([]byte(text)); err != nil {
			problems = append(problems, strict.Problem{Path: "due", Message: err.Error()})
		}
	}
	if text := c.PostForm("weight"); text != "" {
		weight, err := strconv.ParseFloat(text, 64)
		if err != nil {
			problems = append(problems, strict.Problem{Path: "weight", Message: fmt.Sprintf("%q is no number", text)})
		}
		terms.Weight = &weight
	}
	return problems
}

// addClosure closes something for a time.
func (p *pages) addClosure(c *gin.Context) {
	f := p.frame(c, "", "")
	closure, err := closureOf(c, f.zone())
	var body []byte
	if err == nil {
		body, err = json.Marshal(closure)
	}
	if err == nil {
		_, err = p.Books.PutThing(c.Request.Context(), "downtime", closure["resource"]+" "+closure["from"], body, store.MustBeNew)
	}
	if errors.Is(err, store.ErrStale) {
		err = strict.Problems{{Path: "from", Message: "it is closed from then already: change that closure in the catalog"}}
	}
	if err != nil {
		p.refuseChange(c, "closure", err)
		return
	}
	done(c, "/day", strings.Replace(closure["resource"], "oven:", "oven ", 1)+" is closed for that time. Plan again to see what that does.")
}

// closureOf reads what is closed, and from when to when.
func closureOf(c *gin.Context, zone *time.Location) (map[string]string, error) {
	var problems strict.Problems
	closure := map[string]string{"resource": c.PostForm("resource"), "why": strings.TrimSpace(c.PostForm("why"))}
	if closure["resource"] == "" {
		problems = append(problems, strict.Problem{Path: "resource", Message: "is missing: choose an oven or a station"})
	}
	for _, name := range []string{"from", "to"} {
		at, err := time.ParseInLocation(localForm, c.PostForm(name), zone)
		if err != nil {
			problems = append(problems, strict.Problem{Path: name, Message: "is no local date and time, as 2026-11-28T07:00"})
		}
		closure[name] = shop.InstantOf(at).String()
	}
	return closure, orNil(problems)
}
