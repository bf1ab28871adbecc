package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/draw"
	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
)

// CribBooks are what the crib's pages ask of the books.
type CribBooks interface {
	Mandrels(ctx context.Context, f store.MandrelFilter) ([]store.Mandrel, error)
	Mandrel(ctx context.Context, id string) (store.Mandrel, error)
	MandrelHistory(ctx context.Context, id string, limit int) ([]store.MandrelMove, error)
	MandrelFailures(ctx context.Context, id string) ([]store.Failure, error)
	LastWork(ctx context.Context) (int64, error)
	MandrelsAhead(ctx context.Context, tasks []shop.Task, days int) ([]crib.Outlook, error)
	MoveMandrels(ctx context.Context, which []store.Seen, o crib.Order) ([]store.Mandrel, error)
	Pick(ctx context.Context, f store.PickFilter) ([]crib.Choice, error)
	Rolls(ctx context.Context, f store.RollFilter) ([]store.Roll, error)
	Roll(ctx context.Context, id string) (store.Roll, error)
	RollHistory(ctx context.Context, id string, limit int) ([]store.RollMove, error)
	MoveRoll(ctx context.Context, which store.Seen, o crib.RollOrder) (store.Roll, error)
}

func (p *pages) cribRoutes() []route {
	return []route{
		get("/crib", "see-pages", p.crib),
		post("/crib", "issue-mandrels", p.moveMany),
		get("/crib/types/:id", "see-pages", p.mandrelType),
		get("/crib/mandrels/:id", "see-pages", p.mandrel),
		post("/crib/mandrels/:id", "issue-mandrels", p.moveOne),
		get("/crib/rolls/:id", "see-pages", p.roll),
		post("/crib/rolls/:id", "draw-roll", p.moveRoll),
		get("/crib/pick", "see-pages", p.pick),
	}
}

// daysAhead is how far the crib looks ahead.
const daysAhead = 14

// soon is within how long a roll's end needs eyes.
const soon = 7 * 24 * time.Hour

func (p *pages) crib(c *gin.Context) { p.cribPage(c, http.StatusOK, MoveForm{}) }

// cribPage shows the crib, with a form for many moves as it was sent, if so.
func (p *pages) cribPage(c *gin.Context, status int, form MoveForm) {
	ctx := c.Request.Context()
	page := &CribPage{Frame: p.frame(c, "Mandrel crib", "/crib"), Change: may(c, "issue-mandrels"), May: keeping(c), Move: form}
	if page.Move.Fields == nil {
		page.Move.Fields = manyFields(c)
	}
	page.Move.Action = "/crib"
	outlooks, err := p.outlooks(ctx)
	if err != nil && !p.empty(ctx) {
		p.fail(c, err)
		return
	}
	mandrels, err := all(func(after string) ([]store.Mandrel, error) {
		return p.Books.Mandrels(ctx, store.MandrelFilter{After: after})
	}, func(m store.Mandrel) string { return m.ID })
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Types = typeRows(outlooks, mandrels)
	rolls, err := p.Books.Rolls(ctx, store.RollFilter{})
	if err != nil {
		p.fail(c, err)
		return
	}
	for i := range rolls {
		page.Rolls = append(page.Rolls, rollRow(&rolls[i]))
	}
	page.Picks = []PickLink{{"What to issue to released work", "/crib/pick"}}
	p.show(c, status, "crib", page)
}

// keeping says what the caller may do with what the crib keeps.
func keeping(c *gin.Context) Keeping {
	return Keeping{Enter: may(c, "add-mandrel"), Limit: may(c, "set-mandrel-limit")}
}

// empty reports whether nobody has entered yet what the shop is made of.
func (p *pages) empty(ctx context.Context) bool {
	settings, err := p.Books.Things(ctx, "settings")
	return err == nil && len(settings) == 0
}

// all reads a list page by page.
func all[T any](read func(after string) ([]T, error), id func(T) string) ([]T, error) {
	var out []T
	for after := ""; ; {
		some, err := read(after)
		if err != nil || len(some) == 0 {
			return out, err
		}
		out = append(out, some...)
		if next := id(some[len(some)-1]); next != after && len(some) >= store.MaxPage {
			after = next
			continue
		}
		return out, nil
	}
}

// outlooks are those of every type for the days ahead, by the latest plan. They
// are worked out anew when what they hang on has changed, or the day has:
// in a season that takes longer than all else of the page.
func (p *pages) outlooks(ctx context.Context) ([]crib.Outlook, error) {
	work, err := p.Books.LastWork(ctx)
	if err != nil {
		return nil, err
	}
	var tasks []shop.Task
	key := outlookKey{work: work, day: shop.DateOf(p.Now().In(p.settings.of(ctx, p.Books).zone))}
	if view, err := p.Runs.Views().Latest(ctx); err == nil {
		tasks, key.plan = view.Plan.Tasks, view.ID
	}
	return p.ahead.of(key, func() ([]crib.Outlook, error) { return p.Books.MandrelsAhead(ctx, tasks, daysAhead) })
}

// An outlookKey says of what outlooks were worked out.
type outlookKey struct {
	work, plan int64
	day        shop.Date
}

// An outlookCache keeps the outlooks that were worked out last.
type outlookCache struct {
	mu   sync.Mutex
	key  outlookKey
	last []crib.Outlook
}

// of returns the outlooks for a key, which must not be changed.
func (o *outlookCache) of(key outlookKey, work func() ([]crib.Outlook, error)) ([]crib.Outlook, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.last != nil && o.key == key {
		return o.last, nil
	}
	last, err := work()
	if err != nil {
		return nil, err
	}
	o.key, o.last = key, last
	return last, nil
}

// typeRows sums up each type: as it is today, and the days ahead with the worst
// of them.
func typeRows(outlooks []crib.Outlook, mandrels []store.Mandrel) []TypeRow {
	var out []TypeRow
	at := map[string]int{}
	for _, o := range outlooks {
		i, ok := at[o.Type]
		if !ok {
			i = len(out)
			at[o.Type] = i
			out = append(out, TypeRow{Type: o.Type})
		}
		out[i].Needed = max(out[i].Needed, o.Needed)
		if o.Short > out[i].Short {
			date := o.Date
			out[i].Short, out[i].ShortOn = o.Short, &date
		}
	}
	for i := range mandrels {
		row, ok := at[mandrels[i].Type]
		if ok {
			*out[row].of(&mandrels[i])++
			out[row].place(&mandrels[i])
		}
	}
	for i := range out {
		out[i].Ahead = draw.Strip("ahead-"+out[i].Type, out[i].Type, needDays(outlooks, out[i].Type))
	}
	return out
}

// needDays are the days ahead of one type, to be drawn.
func needDays(outlooks []crib.Outlook, mandrel string) []draw.NeedDay {
	var days []draw.NeedDay
	for _, o := range outlooks {
		if o.Type == mandrel {
			days = append(days, draw.NeedDay{Date: o.Date, Need: o.Needed, Ready: o.Ready + o.Out})
		}
	}
	return days
}

// place counts a mandrel that is not in the crib where it is.
func (r *TypeRow) place(m *store.Mandrel) {
	where := string(m.Place)
	switch m.Place {
	case crib.InCrib:
		return
	case crib.Issued:
		where = "load " + m.Load
	}
	at := slices.IndexFunc(r.Where, func(w Whereabouts) bool { return w.Place == where })
	if at < 0 {
		at = len(r.Where)
		r.Where = append(r.Where, Whereabouts{Place: where})
	}
	r.Where[at].Count++
}

// of is the count to which a mandrel belongs.
func (r *TypeRow) of(m *store.Mandrel) *int {
	switch {
	case m.Place == crib.Scrapped:
		return &r.Scrapped
	case m.Place == crib.Issued:
		return &r.Out
	case m.Place == crib.InCrib && len(m.Dues) > 0:
		return &r.Due
	case m.Place == crib.InCrib:
		return &r.Ready
	}
	return &r.Away
}

func rollRow(r *store.Roll) RollRow {
	row := RollRow{
		ID: r.ID, Prepreg: r.Prepreg, Lot: r.Lot, Place: string(r.Where), Left: r.Left, Received: r.Received,
		Expires: r.GoodTil, Soon: r.GoodTil.Sub(r.At) < soon, OutLeft: "not counted",
	}
	if left, ok := r.OutTimeLeft(r.At); ok {
		row.OutLeft = fmt.Sprintf("%s days", unit.Number(left.Hours()/24, 1))
	}
	if r.Why != "" {
		row.OutLeft = "held: " + r.Why
	}
	return row
}

// manyFields are those of a move of many mandrels at once.
func manyFields(c *gin.Context) []Field {
	move := c.Query("move")
	if move == "" {
		move = string(crib.Issue)
	}
	return append([]Field{moveField(allowed(c, crib.Moves()), move)},
		Field{Name: "load", Label: "Load, of an issue", Kind: "text", Value: c.Query("load")},
		Field{Name: "ids", Label: "Mandrels", Kind: "area", Required: true, Focus: true, Hint: "Scan or type, one to a line."},
		Field{Name: "damaged", Label: "Damaged: into quarantine", Kind: "check"},
		Field{Name: "remark", Label: "Remark", Kind: "text", Hint: "What is wrong, where something is."},
	)
}

// allowed are those of some moves that the caller may make.
func allowed(c *gin.Context, moves []crib.Move) (out []crib.Move) {
	for _, m := range moves {
		if may(c, moveOperation(m)) {
			out = append(out, m)
		}
	}
	return out
}

func moveField(moves []crib.Move, chosen string) Field {
	f := Field{Name: "move", Label: "What", Kind: "select", Required: true, Value: chosen}
	for _, m := range moves {
		f.Options = append(f.Options, Option{string(m), moveWords[m]})
	}
	return f
}

// moveWords say each move as a person does.
var moveWords = map[crib.Move]string{
	crib.Issue: "issue to a load", crib.Return: "return from a load", crib.ToCrib: "back to the crib", crib.Clean: "to cleaning",
	crib.Recoat: "to recoating", crib.Inspect: "to inspection", crib.Pass: "passes the inspection", crib.Fail: "fails the inspection",
	crib.ToQuarantine: "hold in quarantine", crib.ToRegrind: "out for regrind", crib.Scrap: "scrap",
}

// orderOf reads a move out of a form.
func orderOf(c *gin.Context) crib.Order {
	return crib.Order{
		Move: crib.Move(c.PostForm("move")), Load: strings.TrimSpace(c.PostForm("load")),
		Damaged: c.PostForm("damaged") != "", Unused: c.PostForm("unused") != "", Remark: strings.TrimSpace(c.PostForm("remark")),
	}
}

// idsOf are the ids that a form names: whole in hidden fields, or one to a line
// as they were scanned.
func idsOf(c *gin.Context) []store.Seen {
	ids := c.PostFormArray("id")
	for line := range strings.FieldsFuncSeq(c.PostForm("ids"), func(r rune) bool { return r == '\n' || r == '\r' || r == ',' }) {
		ids = append(ids, strings.TrimSpace(line))
	}
	var out []store.Seen
	for _, id := range ids {
		if id != "" && !slices.ContainsFunc(out, func(s store.Seen) bool { return s.ID == id }) {
			out = append(out, store.Seen{ID: id})
		}
	}
	return out
}

// moveOperation is what somebody must be allowed who makes a move.
func moveOperation(m crib.Move) string {
	switch m {
	case crib.Issue:
		return "issue-mandrels"
	case crib.Return:
		return "return-mandrels"
	}
	return "move-mandrels"
}

// refuses tells a caller who may not do this one thing; it reports whether it
// did.
func (p *pages) refuses(c *gin.Context, operation string) bool {
	problem := p.Gate.Refuse(c.Request.Context(), operation)
	if problem != nil {
		p.problem(c, problem)
	}
	return problem != nil
}

// moveMany moves all mandrels that a form names, or none.
func (p *pages) moveMany(c *gin.Context) {
	which, order := idsOf(c), orderOf(c)
	if _, known := moveWords[order.Move]; known && p.refuses(c, moveOperation(order.Move)) {
		return
	}
	moved, err := p.Books.MoveMandrels(c.Request.Context(), which, order)
	if err == nil {
		done(c, "/crib", fmt.Sprintf("%s: %s.", draw.Counted(len(moved), "mandrel"), moveWords[order.Move]))
		return
	}
	p.refuseMove(c, err, manyFields(c), func(status int, form MoveForm) { p.cribPage(c, status, form) })
}

// refuseMove shows the form of a move again, with what was wrong.
func (p *pages) refuseMove(c *gin.Context, err error, fields []Field, page func(status int, form MoveForm)) {
	f := filled{values: c.Request.PostForm}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	form := MoveForm{Fields: f.fill(fields)}
	for line := range strings.SplitSeq(whole, "\n") {
		if line != "" {
			form.Refused = append(form.Refused, line)
		}
	}
	page(status, form)
}

func (p *pages) mandrelType(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	page := &TypePage{Frame: p.frame(c, "Mandrels "+id, "/crib"), May: keeping(c)}
	s, err := p.Books.Catalog(ctx)
	if err != nil {
		p.fail(c, err)
		return
	}
	at := slices.IndexFunc(s.MandrelTypes, func(m shop.MandrelType) bool { return m.ID == id })
	if at < 0 {
		p.fail(c, store.ErrNotFound)
		return
	}
	page.Type = s.MandrelTypes[at]
	outlooks, err := p.outlooks(ctx)
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Days = needDays(outlooks, id)
	page.Need = draw.Need("need", id, page.Days)
	mandrels, err := p.Books.Mandrels(ctx, store.MandrelFilter{Type: id})
	if err != nil {
		p.fail(c, err)
		return
	}
	for i := range mandrels {
		page.Mandrels = append(page.Mandrels, mandrelRow(&mandrels[i]))
	}
	p.show(c, http.StatusOK, "crib-type", page)
}

func mandrelRow(m *store.Mandrel) MandrelRow {
	row := MandrelRow{
		ID: m.ID, Place: string(m.Place), Load: m.Load, Back: m.Back,
		All: m.All, SinceRecoat: m.SinceRecoat, SinceInspection: m.SinceInspection,
	}
	for _, due := range m.Dues {
		row.Due = append(row.Due, due.String())
	}
	return row
}

func (p *pages) mandrel(c *gin.Context) { p.mandrelPage(c, http.StatusOK, MoveForm{}) }

const historyRows = 100

func (p *pages) mandrelPage(c *gin.Context, status int, form MoveForm) {
	ctx, id := c.Request.Context(), c.Param("id")
	m, err := p.Books.Mandrel(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &MandrelPage{Frame: p.frame(c, "Mandrel "+id, "/crib"), Mandrel: mandrelRow(&m), Type: m.Type, Move: form}
	m.Moves = allowed(c, m.Moves)
	page.Change = len(m.Moves) > 0
	if page.Move.Fields == nil {
		page.Move.Fields = oneFields(&m)
	}
	page.Move.Fields = append(page.Move.Fields, Field{Name: "rev", Kind: "hidden", Value: fmt.Sprint(m.Rev)})
	page.Move.Action = "/crib/mandrels/" + url.PathEscape(id)
	history, err := p.Books.MandrelHistory(ctx, id, historyRows)
	if err != nil {
		p.fail(c, err)
		return
	}
	for _, h := range history {
		what := fmt.Sprintf("%s: %s", h.Move, h.To)
		if h.Load != "" {
			what += ", load " + h.Load
		}
		page.History = append(page.History, Event{At: h.At, By: h.Actor, What: what, Note: h.Remark})
	}
	if may(c, "add-mandrel") && m.Place != crib.Issued && onlyEntered(history, func(h *store.MandrelMove) string { return h.Move }) {
		page.Remove = page.Move.Action + "/remove"
	}
	page.Rev = m.Rev
	failures, err := p.Books.MandrelFailures(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	for _, f := range failures {
		page.Failed = append(page.Failed, failureOf(f))
	}
	p.show(c, status, "crib-mandrel", page)
}

// oneFields are those of a move of one mandrel: only moves that are possible.
func oneFields(m *store.Mandrel) []Field {
	fields := []Field{moveField(m.Moves, "")}
	if slices.Contains(m.Moves, crib.Issue) {
		fields = append(fields, Field{Name: "load", Label: "Load, of an issue", Kind: "text"})
	}
	if slices.Contains(m.Moves, crib.Return) {
		fields = append(fields, Field{Name: "damaged", Label: "Damaged: into quarantine", Kind: "check"},
			Field{Name: "unused", Label: "Not worked with: no cycle counts", Kind: "check"})
	}
	return append(fields, Field{Name: "remark", Label: "Remark", Kind: "text", Hint: "What is wrong, where something is."})
}

func (p *pages) moveOne(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	m, err := p.Books.Mandrel(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	order := orderOf(c)
	if p.refuses(c, moveOperation(order.Move)) {
		return
	}
	if _, err := p.Books.MoveMandrels(ctx, []store.Seen{{ID: id, Rev: revOf(c)}}, order); err != nil {
		p.refuseMove(c, err, oneFields(&m), func(status int, form MoveForm) { p.mandrelPage(c, status, form) })
		return
	}
	done(c, "/crib/mandrels/"+url.PathEscape(id), id+": "+moveWords[order.Move]+".")
}

func (p *pages) pick(c *gin.Context) {
	choices, err := p.Books.Pick(c.Request.Context(), store.PickFilter{Loads: c.QueryArray("load")})
	if err != nil && !p.empty(c.Request.Context()) {
		p.fail(c, err)
		return
	}
	page := &PickPage{Frame: p.frame(c, "What to issue", "/crib"), Name: "released work", Prints: "/print/pick"}
	if may(c, "issue-mandrels") {
		page.Issue = "/crib"
	}
	page.Loads = pickLoads(choices, page.zone())
	p.show(c, http.StatusOK, "crib-pick", page)
}

// pickLoads sorts choices by load, each load's at its first tack.
func pickLoads(choices []crib.Choice, zone *time.Location) []PickLoad {
	var out []PickLoad
	for _, choice := range choices {
		at := slices.IndexFunc(out, func(l PickLoad) bool { return l.Load == choice.Load })
		when := shop.InstantOf(choice.Out.In(zone))
		if at < 0 {
			at = len(out)
			out = append(out, PickLoad{Load: choice.Load, From: when})
		}
		row := PickChoice{Section: choice.Section, Type: choice.Type, Pieces: choice.Pieces, At: when, Lacking: choice.Lacking}
		for _, m := range choice.Mandrels {
			name := m.ID
			if m.Place != crib.InCrib {
				name += " (now " + string(m.Place) + ")"
			} else {
				out[at].IDs = append(out[at].IDs, m.ID)
			}
			row.IDs = append(row.IDs, name)
		}
		out[at].Choices = append(out[at].Choices, row)
	}
	return out
}
