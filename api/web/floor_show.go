package web

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// FloorBooks are what the stations' pages ask of the books.
type FloorBooks interface {
	Queue(ctx context.Context, station string, day shop.Date) ([]store.Task, error)
	OvenQueue(ctx context.Context, oven string, day shop.Date) ([]store.FloorLoad, error)
	FloorLoads(ctx context.Context) ([]store.FloorLoad, error)
	FloorLoad(ctx context.Context, id string) (store.FloorLoad, error)
	FloorTask(ctx context.Context, id int64) (store.Task, error)
	Reports(ctx context.Context, f store.ReportFilter) ([]store.Report, error)
	ReportBegun(ctx context.Context, task int64, at time.Time) (store.Report, error)
	ReportDone(ctx context.Context, t store.TaskReport) (store.Report, error)
	ReportIn(ctx context.Context, load string, at time.Time) (store.Report, error)
	ReportOut(ctx context.Context, load string, at time.Time) (store.Report, error)
	Correct(ctx context.Context, c store.Correction) (store.Report, error)
}

func (p *pages) floorRoutes() []route {
	return []route{
		get("/floor", "see-pages", p.floor),
		get("/floor/scan", "see-pages", p.scan),
		get("/floor/at/:stage/:position", "see-pages", p.queue),
		get("/floor/oven/:id", "see-pages", p.oven),
		get("/floor/loads/:id", "see-pages", p.floorLoad),
		get("/floor/tasks/:id", "see-pages", p.task),
		post("/floor/tasks/:id/begun", "report-begun", p.begun),
		post("/floor/tasks/:id/done", "report-done", p.taskDone),
		post("/floor/loads/:id/in", "report-in", p.loadIn),
		post("/floor/loads/:id/out", "report-out", p.loadOut),
		post("/floor/reports/:id/correct", "correct-report", p.correct),
	}
}

// floorDate is the day that the address names: today, or where nothing is
// released for it, the day on which released work goes on.
func (p *pages) floorDate(c *gin.Context, zone *time.Location) (shop.Date, error) {
	if text := c.Query("date"); text != "" {
		var date shop.Date
		if err := date.UnmarshalText([]byte(text)); err != nil {
			return 0, wrongAddress(err)
		}
		return date, nil
	}
	today := shop.DateOf(p.Now().In(zone))
	loads, err := p.Books.FloorLoads(c.Request.Context())
	if err != nil {
		return 0, err
	}
	next := shop.Date(0)
	for _, l := range loads {
		first, last := shop.DateOf(l.In.In(zone)), shop.DateOf(l.Out.In(zone))
		switch {
		case !l.Finished.IsZero():
		case first <= today && today <= last+1:
			return today, nil
		case first > today && (next == 0 || first < next):
			next = first
		}
	}
	return max(today, next), nil
}

func (p *pages) floor(c *gin.Context) {
	page := &FloorPage{Frame: p.frame(c, "Stations", "/floor")}
	if p.empty(c.Request.Context()) {
		page.Date = shop.DateOf(p.Now())
		p.show(c, http.StatusOK, "floor", page)
		return
	}
	date, err := p.floorDate(c, page.zone())
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Date = date
	for _, stage := range shop.Stages() {
		tasks, err := p.Books.Queue(c.Request.Context(), stage.String(), date)
		if err != nil {
			p.fail(c, err)
			return
		}
		page.Stations = append(page.Stations, tilesOf(stage, date, tasks)...)
	}
	ovens, err := p.Books.Things(c.Request.Context(), "oven")
	if err != nil {
		p.fail(c, err)
		return
	}
	for _, o := range ovens {
		loads, err := p.Books.OvenQueue(c.Request.Context(), o.ID, date)
		if err != nil {
			p.fail(c, err)
			return
		}
		if len(loads) > 0 {
			page.Ovens = append(page.Ovens, ovenTile(o.ID, date, loads))
		}
	}
	p.show(c, http.StatusOK, "floor", page)
}

func queueAddress(stage shop.Stage, position int, date shop.Date) string {
	return fmt.Sprintf("/floor/at/%s/%d?date=%s", stage, position, date)
}

// tilesOf makes a tile for each position that has tasks.
func tilesOf(stage shop.Stage, date shop.Date, tasks []store.Task) []StationTile {
	var out []StationTile
	at := map[int]int{}
	for i := range tasks {
		t := &tasks[i]
		n, ok := at[t.Position]
		if !ok {
			n = len(out)
			at[t.Position] = n
			out = append(out, StationTile{Name: fmt.Sprintf("%s %d", stage, t.Position), Address: queueAddress(stage, t.Position, date)})
		}
		switch t.State {
		case store.TaskDone:
			out[n].Done++
		case store.TaskBegun:
			out[n].Now = fmt.Sprintf("%d × %s", t.Pieces, t.Section)
			out[n].Waiting++
		default:
			out[n].Waiting++
			out[n].Next = cmp.Or(out[n].Next, fmt.Sprintf("%d × %s", t.Pieces, t.Section))
		}
	}
	return out
}

func ovenTile(id string, date shop.Date, loads []store.FloorLoad) StationTile {
	tile := StationTile{Name: id, Address: "/floor/oven/" + url.PathEscape(id) + "?date=" + date.String()}
	for i := range loads {
		switch stateOf(&loads[i]) {
		case loadWaiting:
			tile.Waiting++
			tile.Next = cmp.Or(tile.Next, fmt.Sprintf("load %s, %s", loads[i].Planned.ID, loads[i].Planned.Profile))
		case loadInside:
			tile.Now = "load " + loads[i].Planned.ID
		default:
			tile.Done++
		}
	}
	return tile
}

// The states of a load at its oven.
const (
	loadWaiting = "waiting"
	loadInside  = "in the oven"
	loadOut     = "out"
)

func stateOf(l *store.FloorLoad) string {
	switch {
	case l.CameOut:
		return loadOut
	case l.WentIn:
		return loadInside
	}
	return loadWaiting
}

func (p *pages) queue(c *gin.Context) { p.queuePage(c, http.StatusOK, "") }

// queuePage shows a position's day; problem is why a report was not taken.
func (p *pages) queuePage(c *gin.Context, status int, problem string) {
	page := &QueuePage{Frame: p.frame(c, "Queue", "/floor"), Report: may(c, "report-begun"), Reasons: store.Defects(), Rows: []int{1, 2, 3}, Problem: problem}
	position, err := strconv.Atoi(c.Param("position"))
	if err != nil || page.Stage.UnmarshalText([]byte(c.Param("stage"))) != nil {
		p.fail(c, store.ErrNotFound)
		return
	}
	page.Position, page.Title = position, fmt.Sprintf("%s %d", page.Stage, position)
	date, err := p.floorDate(c, page.zone())
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Date = date
	tasks, err := p.Books.Queue(c.Request.Context(), page.Stage.String(), date)
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Positions = tilesOf(page.Stage, date, tasks)
	page.Cautions = sheet.StationCautions(page.Stage)
	s := p.catalogued(c.Request.Context())
	wrappings := p.wrappings(c.Request.Context(), s)
	for i := range tasks {
		if tasks[i].Position == position {
			page.Tasks = append(page.Tasks, taskView(&tasks[i], wrappings, page.zone()))
		}
	}
	page.Next, page.Scanned = nextOf(page.Tasks, c.Query("task"))
	page.Flags = flagsOf(page.Stage, page.Next, sectionsOf(s))
	p.show(c, status, "queue", page)
}

// flagsOf are the flags that a task handles: at cut those of its prepreg, at tack
// all of them in the order in which they are laid on, and elsewhere none.
func flagsOf(stage shop.Stage, t *TaskView, sections map[string]*shop.Section) []CutFlag {
	if t == nil || sections[t.Section] == nil {
		return nil
	}
	switch stage {
	case shop.Cut:
		return cutFlags(sections[t.Section], t.Prepreg, t.Live)
	case shop.Tack:
		var out []CutFlag
		for _, f := range sections[t.Section].Flags {
			out = append(out, CutFlag{f, 1})
		}
		return out
	}
	return nil
}

// nextOf is the task that was scanned, else the one that is being worked, or the
// first that waits; what is done is not worked again.
func nextOf(tasks []TaskView, scanned string) (next *TaskView, asScanned bool) {
	if at := slices.IndexFunc(tasks, func(t TaskView) bool { return t.ID == scanned && t.State != store.TaskDone }); at >= 0 {
		return &tasks[at], true
	}
	for _, state := range []string{store.TaskBegun, store.TaskWaiting} {
		if at := slices.IndexFunc(tasks, func(t TaskView) bool { return t.State == state }); at >= 0 {
			return &tasks[at], false
		}
	}
	return nil, false
}

// catalogued is the shop as the catalog has it. Where that cannot be read, the
// work goes on, and what the catalog says of it is left out.
func (p *pages) catalogued(ctx context.Context) *shop.Shop {
	s, err := p.Books.Catalog(ctx)
	if err != nil {
		return &shop.Shop{}
	}
	return s
}

// tapes are how all sections are wrapped: released tasks do not name it.
func (p *pages) tapes(ctx context.Context) map[string]Wrapping {
	return p.wrappings(ctx, p.catalogued(ctx))
}

func taskView(t *store.Task, wrappings map[string]Wrapping, zone *time.Location) TaskView {
	v := TaskView{
		ID: strconv.FormatInt(t.ID, 10), Load: t.Load, Section: t.Section, Product: t.Product, Pieces: t.Pieces, Live: t.Live,
		Prepreg: t.Prepreg, Mandrel: t.Mandrel, Tape: wrappings[t.Section].Tape.ID, State: t.State, Good: t.Good, Scrapped: t.Scrapped, Dead: t.Dead,
		Start: shop.InstantOf(t.From.In(zone)), End: shop.InstantOf(t.To.In(zone)), Stage: t.Stage, Position: t.Position,
	}
	if t.Stage == shop.Wrap.String() {
		v.Wrap = wrappings[t.Section].Terms
	}
	if t.Setup {
		v.SetUp = map[string]string{"cut": v.Prepreg, "tack": v.Mandrel, "wrap": v.Tape}[t.Stage]
	}
	if t.State == store.TaskDone {
		v.Ended = &v.End
	}
	return v
}

func (p *pages) begun(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err == nil {
		_, err = p.Books.ReportBegun(c.Request.Context(), id, time.Time{})
	}
	p.reported(c, err, "begun")
}

// taskDone takes what became of a task's pieces.
func (p *pages) taskDone(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	good, dead, scrap, err := piecesOf(c)
	if err == nil {
		_, err = p.Books.ReportDone(c.Request.Context(), store.TaskReport{Task: id, Good: good, Scrap: scrap, Dead: dead})
	}
	p.reported(c, err, outcome(good, scrap), doneFields(c)...)
}

// piecesOf reads what became of pieces: the good, the dead and the scrapped by
// reason; rows without pieces say nothing.
func piecesOf(c *gin.Context) (good, dead int, scrap []store.Scrap, err error) {
	var problems strict.Problems
	number := func(name, text string) int {
		if text == "" {
			return 0
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 {
			problems = append(problems, strict.Problem{Path: name, Message: fmt.Sprintf("%q is no number of pieces", text)})
		}
		return n
	}
	good, dead = number("good", c.PostForm("good")), number("dead", c.PostForm("dead"))
	reasons := c.PostFormArray("reason")
	for i, text := range c.PostFormArray("scrap") {
		if scraps(text) && i < len(reasons) {
			n := number(scrapPath(len(scrap))+".pieces", text)
			scrap = append(scrap, store.Scrap{Pieces: n, Reason: reasons[i]})
		}
	}
	return good, dead, scrap, orNil(problems)
}

// scraps reports whether a row's number says anything.
func scraps(pieces string) bool { return pieces != "" && pieces != "0" }

func scrapPath(n int) string { return fmt.Sprintf("scrap[%d]", n) }

// doneFields are what was typed of a task that is done, named as the books speak
// of it.
func doneFields(c *gin.Context) []Field {
	fields := []Field{
		{Name: "back", Kind: "hidden", Value: local(c.PostForm("back"))},
		{Name: "dead", Kind: "hidden", Value: c.PostForm("dead")},
		{Name: "good", Label: "Good pieces", Kind: "number", Least: "0", Value: c.PostForm("good"), Required: true, Quiet: true},
	}
	options := []Option{{"", "–"}}
	for _, d := range store.Defects() {
		options = append(options, Option{d, d})
	}
	reasons, n := c.PostFormArray("reason"), 0
	for i, text := range c.PostFormArray("scrap") {
		if i >= len(reasons) || !scraps(text) {
			continue
		}
		fields = append(fields,
			Field{Name: scrapPath(n) + ".pieces", Label: "Scrapped", Kind: "number", Least: "0", Value: text},
			Field{Name: scrapPath(n) + ".reason", Label: "Because of", Kind: "select", Options: options, Value: reasons[i]})
		n++
	}
	return fields
}

// asSent gives fields of scrap the names by which a form sends them.
func asSent(fields []Field) []Field {
	for i := range fields {
		row, what, _ := strings.Cut(strings.TrimPrefix(fields[i].Name, "scrap["), "].")
		switch what {
		case "pieces":
			fields[i].Name, fields[i].Scope = "scrap", row
		case "reason":
			fields[i].Name, fields[i].Scope = "reason", row
		}
	}
	return fields
}

func (p *pages) loadIn(c *gin.Context) {
	_, err := p.Books.ReportIn(c.Request.Context(), c.Param("id"), time.Time{})
	p.reported(c, err, "load "+c.Param("id")+" is in")
}

func (p *pages) loadOut(c *gin.Context) {
	_, err := p.Books.ReportOut(c.Request.Context(), c.Param("id"), time.Time{})
	p.reported(c, err, "load "+c.Param("id")+" is out")
}

// outcome says what became of a task's pieces.
func outcome(good int, scrap []store.Scrap) string {
	words := fmt.Sprintf("done, %d good", good)
	for _, s := range scrap {
		words += fmt.Sprintf(", %d scrapped: %s", s.Pieces, s.Reason)
	}
	return words
}

// reported leads back to the queue, with what was written down or why it was not.
// fields are what was typed, to be put right.
func (p *pages) reported(c *gin.Context, err error, what string, fields ...Field) {
	if err == nil {
		done(c, local(c.PostForm("back")), "Written down: "+what+".")
		return
	}
	var f filled
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	page := &ReportPage{Frame: p.frame(c, "Not written down", "/floor"), Back: local(c.PostForm("back"))}
	page.Wrong = whole
	if status == http.StatusUnprocessableEntity && len(fields) > 0 {
		page.Action, page.Fields = c.Request.URL.Path, asSent(f.fill(fields))
	}
	p.show(c, status, "report", page)
}

// oven shows what goes into an oven when, and under which profile.
func (p *pages) oven(c *gin.Context) {
	ctx := c.Request.Context()
	page := &OvenPage{Frame: p.frame(c, "Oven "+c.Param("id"), "/floor"), Oven: c.Param("id"), Report: may(c, "report-in"), Cautions: sheet.OvenCautions()}
	date, err := p.floorDate(c, page.zone())
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Date = date
	loads, err := p.Books.OvenQueue(ctx, page.Oven, date)
	if err != nil {
		p.fail(c, err)
		return
	}
	s, err := p.Books.Catalog(ctx)
	if err != nil {
		p.fail(c, err)
		return
	}
	for i := range loads {
		page.Loads = append(page.Loads, ovenLoad(s, &loads[i], &page.Frame))
	}
	p.show(c, http.StatusOK, "oven", page)
}

// ovenLoad draws a released load as it was planned, with its real times.
func ovenLoad(s *shop.Shop, l *store.FloorLoad, f *Frame) OvenLoad {
	out := OvenLoad{State: stateOf(l)}
	day := sheet.Of(s, &plan.Plan{Loads: []shop.Load{l.Planned}}, shop.DateAt(l.Planned.In.Minute, f.zone()))
	if views := loadViews(s, day, f); len(views) > 0 {
		out.LoadView = views[0]
	} else {
		out.LoadView = LoadView{Load: &sheet.Load{ID: l.Planned.ID, Oven: l.Planned.Oven}}
	}
	if l.WentIn {
		in := shop.InstantOf(l.In.In(f.zone()))
		out.WentIn = &in
	}
	if l.CameOut {
		came := shop.InstantOf(l.Out.In(f.zone()))
		out.CameOut = &came
	}
	return out
}
