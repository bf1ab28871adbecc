package web

import (
	"fmt"
	"net/http"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/draw"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

func (p *pages) paperRoutes() []route {
	return []route{
		get("/print/day/:plan/:date", "see-pages", p.dayPaper),
		get("/print/orders/:id", "see-pages", p.packing),
		get("/print/pick", "see-pages", p.pickPaper),
	}
}

// leaf answers with a print.
func (p *pages) leaf(c *gin.Context, template string, paper any) {
	c.Header("Content-Type", "text/html; charset=utf-8")
	if err := renderSheet(c.Writer, template, paper); err != nil {
		p.Log.ErrorContext(c.Request.Context(), "print not shown", "print", template, "error", err)
		c.String(http.StatusInternalServerError, "internal error")
	}
}

func (p *pages) dayPaper(c *gin.Context) {
	id, err := idIn(c.Param("plan"))
	if err != nil {
		p.fail(c, err)
		return
	}
	var date shop.Date
	if err := date.UnmarshalText([]byte(c.Param("date"))); err != nil {
		p.fail(c, wrongAddress(err))
		return
	}
	view, err := p.Runs.Views().Plan(c.Request.Context(), id)
	if err != nil {
		p.fail(c, err)
		return
	}
	paper := &Paper{Frame: p.frame(c, "Prints", ""), Date: date, Plan: id}
	paper.Title = "Prints for " + paper.Frame.Day(date)
	here := fmt.Sprintf("/print/day/%d/%s", id, date)
	only := c.Query("only")
	paper.Kinds = []PaperKind{{"Everything", here + "?only=all", only == "all"}}
	for _, k := range paperKinds {
		paper.Kinds = append(paper.Kinds, PaperKind{k.word, here + "?only=" + k.name, only == k.name})
	}
	if only != "" {
		named, err := p.asReleased(c.Request.Context(), view)
		if err != nil {
			p.fail(c, err)
			return
		}
		paper.Wrappings = p.wrappings(c.Request.Context(), view.Shop)
		paper.Fill(view.Shop, named, only)
	}
	p.leaf(c, "paper-day", paper)
}

func (p *pages) packing(c *gin.Context) {
	o, err := p.Books.Order(c.Request.Context(), c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	ships := p.ships(c.Request.Context())
	paper := &PackingPaper{Frame: p.frame(c, "Packing list "+o.ID, ""), Order: headOf(o, &ships), Code: stripes("order", o.ID)}
	paper.Date = shop.DateOf(p.Now().In(paper.zone()))
	for i := range o.Lines {
		if o.Lines[i].Open() > 0 {
			paper.Lines = append(paper.Lines, ships.row(&o.Lines[i]))
		}
	}
	p.leaf(c, "paper-order", paper)
}

func (p *pages) pickPaper(c *gin.Context) {
	choices, err := p.Books.Pick(c.Request.Context(), store.PickFilter{Loads: c.QueryArray("load")})
	if err != nil && !p.empty(c.Request.Context()) {
		p.fail(c, err)
		return
	}
	paper := &PickPaper{Frame: p.frame(c, "Pick list", ""), Codes: map[string]draw.Picture{}}
	paper.Loads = pickLoads(choices, paper.zone())
	for _, l := range paper.Loads {
		paper.Codes[l.Load] = stripes("pick-"+l.Load, l.Load)
	}
	p.leaf(c, "paper-pick", paper)
}
