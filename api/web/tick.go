package web

import (
	"context"
	"io"
	"net/http"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A TickPage says when the books are planned by themselves, what becomes of such
// a plan, and how the last ticks ended.
type TickPage struct {
	Frame
	Settings store.TickSettings
	Next     time.Time // zero where none is due
	Ticks    []store.Tick
	Form     ChangeForm
	Change   bool
}

// Render writes the page.
func (p *TickPage) Render(w io.Writer) error { return render(w, "tick", p) }

// Last is the last tick; nil where none has run.
func (p *TickPage) Last() *store.Tick {
	if len(p.Ticks) == 0 {
		return nil
	}
	return &p.Ticks[0]
}

// TickBooks are what the tick's page asks of the books.
type TickBooks interface {
	TickSettings(ctx context.Context) (store.TickSettings, error)
	ChangeTick(ctx context.Context, rev int64, c store.TickChange) (store.TickSettings, error)
	Ticks(ctx context.Context, limit int) ([]store.Tick, error)
}

func (p *pages) tickRoutes() []route {
	return []route{
		get("/tick", "see-pages", func(c *gin.Context) { p.tickPage(c, refusal{status: http.StatusOK}) }),
		post("/tick", "change-tick", p.changeTick),
	}
}

// ticksShown is how many of the last ticks the page shows: a month of working
// days.
const ticksShown = 23

// formTick is the name of the page's one form.
const formTick = "tick"

func (p *pages) tickPage(c *gin.Context, again refusal) {
	ctx := c.Request.Context()
	page := &TickPage{Frame: p.frame(c, "The daily tick", "/day"), Change: may(c, "change-tick")}
	var err error
	if page.Settings, err = p.Books.TickSettings(ctx); err == nil {
		page.Next, err = p.NextTick(ctx, page.Settings)
	}
	if err == nil {
		page.Ticks, err = p.Books.Ticks(ctx, ticksShown)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Form = ChangeForm{Title: "When it is due", Action: "/tick", Button: "Save", Open: true, Fields: tickFields(&page.Settings)}
	again.into(&page.Form, formTick)
	p.show(c, again.status, "tick", page)
}

func tickFields(s *store.TickSettings) []Field {
	return []Field{
		{Name: "on", Label: "Plan by itself on each working day", Kind: "check", Value: tick(s.On)},
		{Name: "at", Label: "At, by the shop's clock", Kind: "time", Required: true, Quiet: true, Value: s.At.String()},
		{
			Name: "release_days", Label: "Working days that it releases", Kind: "number", Least: "0", Required: true, Quiet: true, Value: strconv.Itoa(s.ReleaseDays),
			Hint: "0: its plan stays a proposal, until somebody takes it. 1: the next working day's work goes to the stations at once, with nobody looking first.",
		},
	}
}

func (p *pages) changeTick(c *gin.Context) {
	change, err := tickChange(c)
	if err == nil {
		_, err = p.Books.ChangeTick(c.Request.Context(), revOf(c), change)
	}
	if err == nil {
		done(c, "/tick", "Saved.")
		return
	}
	f := filled{values: c.Request.PostForm}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, tickFields(&store.TickSettings{}))
	if ours != nil {
		p.fail(c, ours)
		return
	}
	p.tickPage(c, refusal{status: status, form: formTick, filled: f, whole: whole})
}

// tickChange reads all of the settings out of the form.
func tickChange(c *gin.Context) (store.TickChange, error) {
	r := formReader{c: c}
	on, days := c.PostForm("on") != "", r.count("release_days")
	change := store.TickChange{On: &on, ReleaseDays: &days, At: new(shop.Clock)}
	if err := change.At.UnmarshalText([]byte(c.PostForm("at"))); err != nil {
		r.wrong("at", "%v", err)
	}
	return change, r.err()
}
