package web

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// HoldBooks are what holding a line back asks of the books.
type HoldBooks interface {
	Line(ctx context.Context, id string) (store.Line, error)
	Lines(ctx context.Context, f store.LineFilter) ([]store.Line, error)
	HoldLine(ctx context.Context, id string, hold store.Hold, rev int64) (store.Line, error)
	LiftHold(ctx context.Context, id string, rev int64) (store.Line, error)
}

func (p *pages) holdRoutes() []route {
	return []route{
		post("/lines/:id/hold", "hold-lines", p.holdLine),
		post("/lines/:id/lift", "hold-lines", p.liftHold),
		post("/change/hold", "hold-lines", p.changeHold),
	}
}

// today is the date in the shop.
func (p *pages) today(ctx context.Context) shop.Date {
	return shop.DateOf(p.Now().In(p.settings.of(ctx, p.Books).zone))
}

// HeldBack says that a line is held back, until when and why.
func (f *Frame) HeldBack(h *store.Hold) string {
	words := "held back"
	if h.Until != nil {
		words += " until " + f.Date(*h.Until)
	}
	return words + ": " + h.Why
}

func holdFields() []Field {
	return []Field{
		{Name: "why", Label: "Why", Kind: "text", Required: true, Quiet: true, Hint: "As: waits for a deposit."},
		{Name: "until", Label: "Until", Kind: "date", Hint: "The day on which it is planned again. Empty: until somebody lifts it."},
	}
}

// holdForm is the form that holds a line back.
func holdForm(l *store.Line) ChangeForm {
	form := ChangeForm{Title: "Hold line " + l.ID + " back", Action: "/lines/" + url.PathEscape(l.ID) + "/hold", Button: "Hold it back", Fields: holdFields()}
	if l.Complete {
		form.Fields[0].Hint = "It ships complete: all such lines of its order are held with it."
	}
	return form
}

func liftAddress(line string) string { return "/lines/" + url.PathEscape(line) + "/lift" }

// holdName is by which a line's form for holding it is found again.
func holdName(line string) string { return "hold " + line }

// holdIn reads a hold out of a form.
func holdIn(c *gin.Context) (store.Hold, error) {
	r := formReader{c: c}
	hold := store.Hold{Why: strings.TrimSpace(c.PostForm("why")), Until: r.dateOrNone("until")}
	return hold, r.err()
}

func (p *pages) holdLine(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	l, err := p.Books.Line(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	hold, err := holdIn(c)
	if err == nil {
		_, err = p.Books.HoldLine(ctx, id, hold, revOf(c))
	}
	if err != nil {
		p.refuseLine(c, &l, holdName(id), err)
		return
	}
	done(c, lineAddress(&l), heldWords(&l))
}

// heldWords say what was done to a line that is held back now.
func heldWords(l *store.Line) string {
	if l.Complete {
		return "Line " + l.ID + " is held back, with all that ships complete with it. Plan again to see what that does."
	}
	return "Line " + l.ID + " is held back. Plan again to see what that does."
}

// liftHold has a line planned again; back is the page that it was asked on.
func (p *pages) liftHold(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	l, err := p.Books.Line(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	if _, err = p.Books.LiftHold(ctx, id, revOf(c)); err != nil {
		c.Request.PostForm = nil // nothing was typed
		p.refuseLine(c, &l, holdName(id), err)
		return
	}
	to := lineAddress(&l)
	if c.PostForm("back") != "" {
		to = local(c.PostForm("back"))
	}
	done(c, to, "Line "+id+" is held back no longer. Plan again to see its date.")
}

// changeHold holds back the line that is named on the planner's page.
func (p *pages) changeHold(c *gin.Context) {
	ctx, id := c.Request.Context(), strings.TrimSpace(c.PostForm("line"))
	l, err := p.Books.Line(ctx, id)
	hold, wrong := holdIn(c)
	var problems strict.Problems
	_ = errors.As(wrong, &problems) // holdIn has no other errors
	if errors.Is(err, store.ErrNotFound) {
		problems, err = append(problems, strict.Problem{Path: "line", Message: fmt.Sprintf("there is no line %q", id)}), nil
	}
	if err == nil {
		err = orNil(problems)
	}
	if err == nil {
		_, err = p.Books.HoldLine(ctx, l.ID, hold, l.Rev)
	}
	if err != nil {
		p.refuseChange(c, "hold", err)
		return
	}
	done(c, "/day", heldWords(&l))
}

// addHeld puts the lines that are held back on the planner's page.
func (p *pages) addHeld(ctx context.Context, page *DayPage) error {
	lines, err := p.openLines(ctx, store.LineFilter{Held: true})
	if err != nil {
		return err
	}
	page.More.Held = max(0, len(lines)-mostShown)
	ships := p.ships(ctx)
	for i := range lines[:len(lines)-page.More.Held] {
		page.Held = append(page.Held, OrderLine{LineRow: ships.row(&lines[i]), Rev: lines[i].Rev, Lift: liftAddress(lines[i].ID)})
	}
	return nil
}
