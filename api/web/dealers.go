package web

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/strict"
	"blankwright/store"
)

// DealerBooks are what the dealers' pages ask of the books.
type DealerBooks interface {
	Dealers(ctx context.Context) ([]store.Dealer, error)
	Dealer(ctx context.Context, id string) (store.Dealer, error)
	PutDealer(ctx context.Context, id string, terms store.DealerTerms, rev int64) (store.Dealer, error)
}

func (p *pages) dealerRoutes() []route {
	return []route{
		get("/dealers", "see-pages", p.dealers),
		get("/dealers/:id", "put-dealer", p.dealer),
		post("/dealers/:id", "put-dealer", p.putDealer),
	}
}

func (p *pages) dealers(c *gin.Context) {
	list, err := p.Books.Dealers(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &ListPage{Frame: p.frame(c, "Dealers", "/orders"), Head: []string{"id", "name", "weight", "ships", "note"}, Empty: "There is no dealer yet. An order needs one."}
	if may(c, "put-dealer") {
		page.Add = "/dealers/" + newThing
	}
	for _, d := range list {
		ships := "each set when it is ready"
		if d.Complete {
			ships = "complete"
		}
		page.Rows = append(page.Rows, ListRow{"/dealers/" + url.PathEscape(d.ID), []string{d.ID, d.Name, strconv.FormatFloat(d.Weight, 'f', -1, 64), ships, d.Note}})
	}
	p.show(c, http.StatusOK, "list", page)
}

// dealerForm is the form of a dealer, or of a new one.
func (p *pages) dealerForm(c *gin.Context, d store.Dealer) *FormPage {
	id := c.Param("id")
	page := &FormPage{
		Frame: p.frame(c, "Dealer "+id, "/orders"), Back: Option{"/dealers", "Dealers"}, Action: "/dealers/" + url.PathEscape(id), Button: "Save", Rev: d.Rev,
		Note: "Weight and shipping are what an order's lines get that say nothing else.",
	}
	if id == newThing {
		page.Title = "A new dealer"
		page.Fields = []Field{{Name: "id", Label: "Id", Kind: "text", Required: true, Focus: true, Hint: "Short, as orders name it."}}
		d.Weight = 1
	}
	page.Fields = append(page.Fields,
		Field{Name: "name", Label: "Name", Kind: "text", Required: true, Value: d.Name},
		Field{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0", Value: strconv.FormatFloat(d.Weight, 'f', -1, 64), Hint: "How much a day late costs, against others'."},
		Field{Name: "complete", Label: "Orders ship complete", Kind: "check", Value: tick(d.Complete)},
		Field{Name: "note", Label: "Note", Kind: "text", Value: d.Note})
	return page
}

func tick(on bool) string {
	if on {
		return "true"
	}
	return ""
}

func (p *pages) dealer(c *gin.Context) {
	var d store.Dealer
	if c.Param("id") != newThing {
		var err error
		if d, err = p.Books.Dealer(c.Request.Context(), c.Param("id")); err != nil {
			p.fail(c, err)
			return
		}
	}
	p.showForm(c, p.dealerForm(c, d))
}

func (p *pages) putDealer(c *gin.Context) {
	id := c.Param("id")
	if id == newThing {
		id = strings.TrimSpace(c.PostForm("id"))
	}
	terms := store.DealerTerms{Name: strings.TrimSpace(c.PostForm("name")), Complete: c.PostForm("complete") != "", Note: strings.TrimSpace(c.PostForm("note"))}
	var err error
	if terms.Weight, err = strconv.ParseFloat(c.PostForm("weight"), 64); err != nil {
		err = strict.Problems{{Path: "weight", Message: "is no number"}}
	} else {
		_, err = p.Books.PutDealer(c.Request.Context(), id, terms, revOf(c))
	}
	if err != nil {
		p.refuseForm(c, err, p.dealerForm(c, store.Dealer{Rev: max(0, revOf(c))}))
		return
	}
	done(c, "/dealers", id+" is saved.")
}
