package web

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/access"
	"blankwright/api/respond"
	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// Parts are what the pages work on.
type Parts struct {
	Books Books
	Gate  *access.Gate
	Runs  *runs.Manager
	Log   *slog.Logger
	Now   func() time.Time
	// Open says that this is a demonstration: nobody signs in.
	Open bool
	// Stock returns the shop as the books have it now, to be planned.
	Stock func(ctx context.Context) (*shop.Shop, error)
	// NextTick returns when the tick is next due; zero where it is not.
	NextTick func(ctx context.Context, s store.TickSettings) (time.Time, error)
	// Missing answers programs that ask for what is not there.
	Missing gin.HandlerFunc
}

// Books are what all pages together ask of the books.
type Books interface {
	SettingsBooks
	DayBooks
	PlansBooks
	CatalogBooks
	CribBooks
	OrdersBooks
	FloorBooks
	ReleaseBooks
	HistoryBooks
	DealerBooks
	AccountBooks
	EnterBooks
	ImportBooks
	ShipBooks
	ClaimBooks
	StockBooks
	TickBooks
	TokenBooks
	HoldBooks
	WrapBooks
	ShipmentBooks
}

// pages hold the handlers.
type pages struct {
	Parts
	settings settingsCache
	ahead    outlookCache
}

// A route is one address of the pages and what it takes to be let in.
type route struct {
	method, path, operation string
	handle                  func(*gin.Context)
}

// Mount adds the pages to an engine.
func Mount(engine *gin.Engine, parts Parts) {
	p := &pages{Parts: parts}
	for _, group := range [][]route{
		p.frameRoutes(), p.signRoutes(), p.dayRoutes(), p.planRoutes(), p.catalogRoutes(), p.cribRoutes(), p.orderRoutes(), p.paperRoutes(), p.floorRoutes(), p.releaseRoutes(), p.historyRoutes(),
		p.dealerRoutes(), p.accountRoutes(), p.enterRoutes(), p.importRoutes(), p.shipRoutes(), p.lineRoutes(), p.claimRoutes(), p.stockRoutes(), p.tickRoutes(), p.tokenRoutes(), p.holdRoutes(), p.wrapRoutes(), p.shipmentRoutes(),
	} {
		for _, r := range group {
			p.Gate.Record(r.method, r.path, r.operation)
			engine.Handle(r.method, r.path, p.guard(r.operation), once, r.handle)
		}
	}
	engine.NoRoute(p.missing)
}

// missing answers who asks for what is not there: a person with a page.
func (p *pages) missing(c *gin.Context) {
	if !strings.Contains(c.GetHeader("Accept"), "text/html") {
		p.Missing(c)
		return
	}
	p.problem(c, respond.New(http.StatusNotFound, "There is nothing at this address."))
}

func get(path, operation string, handle func(*gin.Context)) route {
	return route{http.MethodGet, path, operation, handle}
}

func post(path, operation string, handle func(*gin.Context)) route {
	return route{http.MethodPost, path, operation, handle}
}

// guard lets those in who may. Who is not signed in gets the page to do so, and
// is led back.
func (p *pages) guard(operation string) gin.HandlerFunc {
	return func(c *gin.Context) {
		problem := p.Gate.Refuse(c.Request.Context(), operation)
		switch {
		case problem == nil:
			c.Next()
			return
		case problem.Status == http.StatusUnauthorized:
			p.signInPage(c, problem.Status, "", c.Request.URL.RequestURI())
		default:
			p.problem(c, problem)
		}
		c.Abort()
	}
}

// frameRoutes are those that every page needs.
func (p *pages) frameRoutes() []route {
	return []route{
		get("/", "open-pages", p.first),
		get("/assets/:version/:name", "open-pages", serveAsset),
		post("/view", "open-pages", setView),
	}
}

// first leads to the page that a caller works with.
func (p *pages) first(c *gin.Context) {
	caller := access.From(c.Request.Context())
	for _, d := range desks {
		if slices.Contains(caller.Roles, d.role) {
			c.Redirect(http.StatusSeeOther, d.address)
			return
		}
	}
	c.Redirect(http.StatusSeeOther, "/sign-in")
}

// desks are where each role works; who has several begins at the first.
var desks = []struct {
	role    access.Role
	address string
}{
	{access.Planner, "/day"},
	{access.Sales, "/orders"},
	{access.Crib, "/crib"},
	{access.Station, "/floor"},
	{access.Viewer, "/day"},
	{access.Admin, "/catalog"},
}

// A ProblemPage says why there is no other.
type ProblemPage struct {
	Frame
	Status int
	Text   string
	Places []respond.Field
	ID     string // of the request, for who looks into the log
}

// Render writes the page.
func (p *ProblemPage) Render(w io.Writer) error { return render(w, "problem", p) }

// problem answers with the page of a problem.
func (p *pages) problem(c *gin.Context, problem *respond.Problem) {
	f := p.frame(c, http.StatusText(problem.Status), "")
	p.show(c, problem.Status, "problem", &ProblemPage{Frame: f, Status: problem.Status, Text: problem.Detail, Places: problem.Errors, ID: problem.Request})
}

// fail answers with what an error means.
func (p *pages) fail(c *gin.Context, err error) {
	p.problem(c, respond.Of(c.Request.Context(), p.Log, err))
}

// show answers with a page.
func (p *pages) show(c *gin.Context, status int, template string, page any) {
	c.Header("Content-Type", "text/html; charset=utf-8")
	c.Status(status)
	if err := render(c.Writer, template, page); err != nil {
		p.Log.ErrorContext(c.Request.Context(), "page not shown", "page", template, "error", err)
		if !c.Writer.Written() {
			c.String(http.StatusInternalServerError, "internal error")
		}
	}
}

// done says what a form has done, on the page that it leads to.
func done(c *gin.Context, to, said string) {
	http.SetCookie(c.Writer, &http.Cookie{
		Name: saidCookie, Value: url.QueryEscape(said), Path: "/", MaxAge: saidAge, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	})
	c.Redirect(http.StatusSeeOther, to)
}

const (
	saidCookie = "said"
	saidAge    = 30 // seconds
)

// saidOnce returns what the last form has done, and forgets it.
func saidOnce(c *gin.Context) string {
	cookie, err := c.Request.Cookie(saidCookie)
	if err != nil {
		return ""
	}
	http.SetCookie(c.Writer, &http.Cookie{Name: saidCookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode})
	text, err := url.QueryUnescape(cookie.Value)
	if err != nil {
		return ""
	}
	return text
}

// frame returns what is around a page for this request.
func (p *pages) frame(c *gin.Context, title, here string) Frame {
	ctx := c.Request.Context()
	caller := access.From(ctx)
	set := p.settings.of(ctx, p.Books)
	f := Frame{
		Title: title, Here: here, Path: c.Request.URL.RequestURI(), Shop: set.Name, Zone: set.zone,
		View: viewOf(c.Request), Who: caller.Name, Tags: tagsOf(caller), Open: p.Open,
	}
	if c.Request.Method != http.MethodGet {
		f.Path = local(c.PostForm("back"))
	} else {
		f.Said = saidOnce(c)
	}
	return f
}

// may reports whether the caller may carry out an operation.
func may(c *gin.Context, operation string) bool {
	return access.From(c.Request.Context()).May(operation)
}

// refused sorts out what a form was refused for: its fields', the form's as a
// whole, or an error that is not the form's at all.
func (f *filled) refused(ctx context.Context, log *slog.Logger, err error, fields []Field) (whole string, status int, ours error) {
	var problems strict.Problems
	switch {
	case errors.As(err, &problems):
		return strings.Join(f.take(problems, fields), "\n"), http.StatusUnprocessableEntity, nil
	case errors.Is(err, store.ErrStale):
		return stale, http.StatusPreconditionFailed, nil
	case errors.Is(err, store.ErrKeyUsed):
		return sentBefore, http.StatusConflict, nil
	case errors.Is(err, store.ErrConflict):
		return respond.Of(ctx, log, err).Detail, http.StatusConflict, nil
	}
	var problem *respond.Problem
	if errors.As(err, &problem) && len(problem.Errors) > 0 {
		for _, place := range problem.Errors {
			problems = append(problems, strict.Problem{Path: strings.TrimPrefix(place.Location, "body."), Message: place.Message})
		}
		return strings.Join(f.take(problems, fields), "\n"), problem.Status, nil
	}
	if errors.As(err, &problem) && problem.Status < http.StatusInternalServerError && problem.Status != http.StatusNotFound {
		return problem.Detail, problem.Status, nil
	}
	return "", 0, err
}

// stale is what the second of two editors is told.
const stale = "Somebody has changed this since you opened it, so nothing of yours was saved. Below is what you typed; open the page anew to see what it is now."
