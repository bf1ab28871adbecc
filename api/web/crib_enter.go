package web

import (
	"context"
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/crib"
)

// EnterBooks are what the forms for new tools and material ask of the books.
type EnterBooks interface {
	AddMandrel(ctx context.Context, m store.NewMandrel) (store.Mandrel, error)
	AddRoll(ctx context.Context, r store.NewRoll) (store.Roll, error)
	RemoveMandrel(ctx context.Context, id string, rev int64) error
	RemoveRoll(ctx context.Context, id string, rev int64) error
	MandrelLimits(ctx context.Context) ([]store.MandrelLimit, error)
	SetMandrelLimit(ctx context.Context, kind string, limits crib.Limits, rev int64) (store.MandrelLimit, error)
}

func (p *pages) enterRoutes() []route {
	return []route{
		get("/crib/enter/mandrel", "add-mandrel", func(c *gin.Context) { p.showForm(c, p.mandrelForm(c)) }),
		post("/crib/enter/mandrel", "add-mandrel", p.addMandrel),
		get("/crib/enter/roll", "add-roll", func(c *gin.Context) { p.showForm(c, p.newRollForm(c)) }),
		post("/crib/enter/roll", "add-roll", p.addRoll),
		post("/crib/mandrels/:id/remove", "add-mandrel", func(c *gin.Context) { p.removeEntered(c, p.Books.RemoveMandrel) }),
		post("/crib/rolls/:id/remove", "add-roll", func(c *gin.Context) { p.removeEntered(c, p.Books.RemoveRoll) }),
		get("/crib/limits/:id", "set-mandrel-limit", p.limits),
		post("/crib/limits/:id", "set-mandrel-limit", p.setLimits),
	}
}

// idOptions are the ids of a kind of thing, to choose from.
func (p *pages) idOptions(c *gin.Context, kind string) []Option {
	out := []Option{{"", "–"}}
	things, err := p.Books.Things(c.Request.Context(), kind)
	if err != nil {
		return out // the form then says what is missing
	}
	for _, t := range things {
		out = append(out, Option{t.ID, t.ID})
	}
	return out
}

func (p *pages) mandrelForm(c *gin.Context) *FormPage {
	return &FormPage{Frame: p.frame(c, "Enter a mandrel", "/crib"), Back: Option{"/crib", "Crib"}, Action: "/crib/enter/mandrel", Button: "Enter it", Fields: []Field{
		{Name: "id", Label: "Number on the mandrel", Kind: "text", Required: true, Focus: true},
		{Name: "type", Label: "Type", Kind: "select", Required: true, Value: c.Query("type"), Options: p.idOptions(c, "mandrel_type")},
		{Name: "cycles", Label: "Cycles before", Kind: "number", Least: "0", Value: "0", Hint: "How often it was worked with before it came here."},
		{Name: "remark", Label: "Remark", Kind: "text"},
	}}
}

func (p *pages) addMandrel(c *gin.Context) {
	cycles, err := strconv.Atoi(c.PostForm("cycles"))
	id := strings.TrimSpace(c.PostForm("id"))
	if err != nil {
		err = strict.Problems{{Path: "cycles", Message: "is no whole number"}}
	} else {
		_, err = p.Books.AddMandrel(c.Request.Context(), store.NewMandrel{
			ID: id, Type: c.PostForm("type"), Remark: strings.TrimSpace(c.PostForm("remark")),
			Cycles: crib.Cycles{All: cycles, SinceRecoat: cycles, SinceInspection: cycles},
		})
	}
	if err != nil {
		p.refuseForm(c, err, p.mandrelForm(c))
		return
	}
	done(c, "/crib/mandrels/"+url.PathEscape(id), id+" is in the crib.")
}

func (p *pages) newRollForm(c *gin.Context) *FormPage {
	return &FormPage{
		Frame: p.frame(c, "Enter a roll", "/crib"), Back: Option{"/crib", "Crib"}, Action: "/crib/enter/roll", Button: "Enter it",
		Note: "The limits are the data sheet's and the shop's own process engineer's.",
		Fields: []Field{
			{Name: "id", Label: "Number on the roll", Kind: "text", Required: true, Focus: true},
			{Name: "prepreg", Label: "Prepreg", Kind: "select", Required: true, Options: p.idOptions(c, "prepreg")},
			{Name: "lot", Label: "Lot", Kind: "text"},
			{Name: "m2", Label: "Area, m²", Kind: "number", Step: "any", Least: "0", Required: true},
			{Name: "shelf", Label: "Good in the freezer until", Kind: "datetime-local", Required: true},
			{Name: "from", Label: "Here from", Kind: "datetime-local", Hint: "Empty: it is here now."},
			{Name: "limit", Label: "Out-time that it bears, days", Kind: "number", Step: "any", Least: "0", Hint: "Empty: it is not counted."},
			{Name: "used", Label: "Out-time used before, days", Kind: "number", Step: "any", Least: "0"},
			{Name: "thaw", Label: "Thaw, hours", Kind: "number", Step: "any", Least: "0"},
		},
	}
}

func (p *pages) addRoll(c *gin.Context) {
	page := p.newRollForm(c)
	roll := store.NewRoll{
		ID: strings.TrimSpace(c.PostForm("id")), Prepreg: c.PostForm("prepreg"), Lot: strings.TrimSpace(c.PostForm("lot")), M2: numberIn(c, "m2"),
		Limit: days(c, "limit"), Used: days(c, "used"), Thaw: time.Duration(numberIn(c, "thaw")*60) * time.Minute,
	}
	var problems strict.Problems
	for name, at := range map[string]*time.Time{"shelf": &roll.Shelf, "from": &roll.From} {
		text := c.PostForm(name)
		if text == "" && name == "from" {
			continue
		}
		var err error
		if *at, err = time.ParseInLocation(localForm, text, page.zone()); err != nil {
			problems = append(problems, strict.Problem{Path: name, Message: "is no local date and time, as 2026-11-28T07:00"})
		}
	}
	err := orNil(problems)
	if err == nil {
		_, err = p.Books.AddRoll(c.Request.Context(), roll)
	}
	if err != nil {
		p.refuseForm(c, err, page)
		return
	}
	done(c, "/crib/rolls/"+url.PathEscape(roll.ID), roll.ID+" is entered.")
}

// removeEntered takes out of the books what was entered by mistake.
func (p *pages) removeEntered(c *gin.Context, remove func(ctx context.Context, id string, rev int64) error) {
	id := c.Param("id")
	if err := remove(c.Request.Context(), id, revOf(c)); err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/crib", id+" is taken out of the books, as if it had never been entered.")
}

// onlyEntered reports whether nothing has happened to a thing of the crib but that
// it was entered, and corrected.
func onlyEntered[M any](history []M, move func(m *M) string) bool {
	for i := range history {
		if m := move(&history[i]); m != "entered" && m != "corrected" {
			return false
		}
	}
	return true
}

// days reads a span in days, in whole minutes.
func days(c *gin.Context, name string) time.Duration {
	return time.Duration(numberIn(c, name)*24*60) * time.Minute
}

// limitForm is the form of the cycles after which a type's mandrels are due.
func (p *pages) limitForm(c *gin.Context, l store.MandrelLimit) *FormPage {
	id := c.Param("id")
	return &FormPage{
		Frame: p.frame(c, "Limits of mandrels "+id, "/crib"), Back: Option{"/crib/types/" + url.PathEscape(id), "Mandrels " + id}, Action: "/crib/limits/" + url.PathEscape(id), Button: "Save", Rev: l.Rev,
		Note: "A mandrel that is due is not issued until it was recoated or inspected.",
		Fields: []Field{
			{Name: "recoat", Label: "Due for recoating after cycles", Kind: "number", Least: "0", Value: strconv.Itoa(l.Recoat), Hint: "0: never."},
			{Name: "inspection", Label: "Due for inspection after cycles", Kind: "number", Least: "0", Value: strconv.Itoa(l.Inspection), Hint: "0: never."},
		},
	}
}

func (p *pages) limits(c *gin.Context) {
	list, err := p.Books.MandrelLimits(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	for _, l := range list {
		if l.Type == c.Param("id") {
			p.showForm(c, p.limitForm(c, l))
			return
		}
	}
	p.fail(c, store.ErrNotFound)
}

func (p *pages) setLimits(c *gin.Context) {
	var limits crib.Limits
	var problems strict.Problems
	for name, to := range map[string]*int{"recoat": &limits.Recoat, "inspection": &limits.Inspection} {
		n, err := strconv.Atoi(c.PostForm(name))
		if err != nil {
			problems = append(problems, strict.Problem{Path: name, Message: fmt.Sprintf("%q is no whole number", c.PostForm(name))})
		}
		*to = n
	}
	err, rev := orNil(problems), max(0, revOf(c))
	if err == nil {
		_, err = p.Books.SetMandrelLimit(c.Request.Context(), c.Param("id"), limits, rev)
	}
	if err != nil {
		p.refuseForm(c, err, p.limitForm(c, store.MandrelLimit{Rev: rev}))
		return
	}
	done(c, "/crib/types/"+url.PathEscape(c.Param("id")), "The limits are saved.")
}

// failureOf tells of pieces that were scrapped of what a mandrel made.
func failureOf(f store.Failure) Event {
	return Event{At: f.At, What: fmt.Sprintf("%d of %d × %s, load %s, at %s", f.Pieces, f.Of, f.Section, f.Load, f.Stage), Note: f.Reason}
}

// orNil is problems as an error: none is no error.
func orNil(problems strict.Problems) error {
	if len(problems) == 0 {
		return nil
	}
	return problems
}
