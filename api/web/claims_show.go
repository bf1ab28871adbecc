package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// ClaimBooks are what the claims' pages ask of the books.
type ClaimBooks interface {
	Claims(ctx context.Context, f store.ClaimFilter) ([]store.Claim, error)
	Claim(ctx context.Context, id string) (store.Claim, error)
	EnterClaim(ctx context.Context, asked store.NewClaim) (store.Claim, error)
}

func (p *pages) claimRoutes() []route {
	return []route{
		get("/claims", "see-pages", p.claims),
		get("/claims/new", "change-restock", func(c *gin.Context) { p.showForm(c, p.claimForm(c)) }),
		post("/claims/new", "change-restock", p.enterClaim),
		get("/claims/show/:id", "see-pages", func(c *gin.Context) { p.claimPage(c, c.Param("id"), refusal{status: http.StatusOK}) }),
	}
}

func claimAddress(id string) string { return "/claims/show/" + url.PathEscape(id) }

// claims lists them, the newest first, each with what became of its replacement.
func (p *pages) claims(c *gin.Context) {
	filter := store.ClaimFilter{Product: c.Query("product"), After: c.Query("after"), Limit: claimsAtOnce}
	list, err := p.Books.Claims(c.Request.Context(), filter)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &ListPage{
		Frame: p.frame(c, "Warranty claims", "/stock"), Note: "Each blank that came back is replaced by a line of its own, which ships from stock as any other.",
		Head: []string{"claim", "product", "sold", "failed", "reason", "replacement"}, Empty: "No blank has come back under warranty. Enter a claim when one does: its replacement is then planned.",
	}
	if may(c, "change-restock") {
		page.Add, page.AddWords = "/claims/new", "Enter a claim"
	}
	if err := p.claimRows(c.Request.Context(), page, list); err != nil {
		p.fail(c, err)
		return
	}
	if len(list) == claimsAtOnce {
		page.Older = "/claims?" + url.Values{"product": {filter.Product}, "after": {list[len(list)-1].ID}}.Encode()
	}
	p.show(c, http.StatusOK, "list", page)
}

const claimsAtOnce = 100

func (p *pages) claimRows(ctx context.Context, page *ListPage, list []store.Claim) error {
	ships := p.ships(ctx)
	for i := range list {
		l, err := p.Books.Line(ctx, list[i].Line)
		if err != nil {
			return err
		}
		row := ships.row(&l)
		page.Rows = append(page.Rows, ListRow{claimAddress(list[i].ID), []string{
			list[i].ID, list[i].Product, page.Frame.Date(list[i].Sold), page.Frame.Date(list[i].Failed), list[i].Reason, page.Ships(row),
		}})
	}
	return nil
}

// claimForm is the form of a new claim.
func (p *pages) claimForm(c *gin.Context) *FormPage {
	return &FormPage{
		Frame: p.frame(c, "Enter a warranty claim", "/stock"), Back: Option{"/claims", "Warranty claims"}, Action: "/claims/new", Button: "Enter the claim",
		Note:  "The claim asks for one set to replace the blank.",
		Lists: []IDList{{"products", p.productIDs(c)}},
		Fields: []Field{
			{Name: "product", Label: "Product", Kind: "text", List: "products", Required: true, Focus: true, Value: c.Query("product")},
			{Name: "sold", Label: "Sold", Kind: "date", Required: true},
			{Name: "failed", Label: "Failed", Kind: "date", Required: true},
			{Name: "reason", Label: "Reason", Kind: "text", Required: true, Hint: "How it failed, as the dealer tells it or as you see it."},
			{Name: "note", Label: "Note", Kind: "area"},
			{Name: "due", Label: "Replacement due", Kind: "date", Hint: "Empty: in two weeks."},
			{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0", Hint: "How much a day late costs, against others'. Empty: 1."},
		},
	}
}

func (p *pages) enterClaim(c *gin.Context) {
	r := formReader{c: c}
	asked := r.claim()
	var entered store.Claim
	err := r.into(func(ctx context.Context) (err error) {
		entered, err = p.Books.EnterClaim(ctx, asked)
		return err
	}, asNamed)
	if err != nil {
		p.refuseForm(c, err, p.claimForm(c))
		return
	}
	done(c, claimAddress(entered.ID), "Claim "+entered.ID+" is entered. Plan again to see when its replacement ships.")
}

// claim reads a claim.
func (r *formReader) claim() store.NewClaim {
	c := r.c
	return store.NewClaim{
		Product: strings.TrimSpace(c.PostForm("product")), Reason: strings.TrimSpace(c.PostForm("reason")), Note: strings.TrimSpace(c.PostForm("note")),
		Sold: r.date("sold"), Failed: r.date("failed"), Due: r.dateOrNone("due"), Weight: r.amount("weight"),
	}
}

// claimPage shows a claim with its line, and a form of it as it was refused.
func (p *pages) claimPage(c *gin.Context, id string, again refusal) {
	ctx := c.Request.Context()
	claim, err := p.Books.Claim(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	l, err := p.Books.Line(ctx, claim.Line)
	if err != nil {
		p.fail(c, err)
		return
	}
	ships := p.ships(ctx)
	page := &ClaimPage{Frame: p.frame(c, "Claim "+id, "/stock"), Claim: claim, Open: l.Open(), Change: may(c, "change-orders"), Products: p.productIDs(c)}
	page.Line = orderLine(&l, &ships, &again, may(c, "hold-lines"))
	if l.Open() == 0 {
		again.shown = false // there is no form any more
	}
	if may(c, "ship") && l.Open() > 0 {
		page.Send = sendForm(&l, "Send the replacement", "It is sent")
		again.into(&page.Send, sendOf(l.ID))
	}
	page.Wrong = again.left()
	if again.status != http.StatusOK {
		page.Path = claimAddress(id)
	}
	p.show(c, again.status, "claim", page)
}
