package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// WrapBooks are what the pages about wrap recipes ask of the books.
type WrapBooks interface {
	WrapRecipes(ctx context.Context) ([]store.WrapRecipe, error)
	WrapRecipe(ctx context.Context, section string) (store.WrapRecipe, error)
	SetWrapRecipe(ctx context.Context, section string, terms store.WrapTerms, rev int64) (store.WrapRecipe, error)
	RemoveWrapRecipe(ctx context.Context, section string, rev int64) error
}

func (p *pages) wrapRoutes() []route {
	return []route{
		get("/wraps", "see-pages", p.wraps),
		get("/wraps/:section", "set-wrap-recipe", p.wrap),
		post("/wraps/:section", "set-wrap-recipe", p.setWrap),
		post("/wraps/:section/remove", "set-wrap-recipe", p.removeWrap),
	}
}

func wrapAddress(section string) string { return "/wraps/" + url.PathEscape(section) }

// wraps lists each section's recipe; who may change them is led to their forms,
// the others to the products.
func (p *pages) wraps(c *gin.Context) {
	list, err := p.Books.WrapRecipes(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &ListPage{
		Frame: p.frame(c, "Wrap recipes", "/catalog"), Note: "How the shrink tape goes onto each section, as its wrap sheet and its station show it.",
		Head: []string{"section", "product", "tape", "pitch", "tension", "passes"}, Figures: 3, Empty: "There is no section yet. Enter a product in the catalog; then say here how its sections are wrapped.",
	}
	for _, r := range list {
		row := ListRow{"/catalog/product/" + url.PathEscape(r.Product), []string{r.Section, r.Product, r.Tape, "not said", "–", "–"}}
		if may(c, "set-wrap-recipe") {
			row.Address = wrapAddress(r.Section)
		}
		if r.Rev > 0 {
			row.Cells = append(row.Cells[:3], page.Units().Pitch(r.PitchMM), tension(r.TensionN), strconv.Itoa(r.Passes))
		}
		page.Rows = append(page.Rows, row)
	}
	p.show(c, http.StatusOK, "list", page)
}

// wrapsSet is how many recipes somebody has set.
func (p *pages) wrapsSet(ctx context.Context) (n int) {
	list, err := p.Books.WrapRecipes(ctx)
	if err != nil {
		return 0 // the page of them says why
	}
	for _, r := range list {
		if r.Rev > 0 {
			n++
		}
	}
	return n
}

func tension(n float64) string { return unit.Number(n, 1) + "\u00a0N" }

// Tension writes newtons.
func (f *Frame) Tension(n float64) string { return tension(n) }

// wrapForm is the form of a section's recipe.
func (p *pages) wrapForm(c *gin.Context, r store.WrapRecipe) *FormPage {
	page := &FormPage{
		Frame: p.frame(c, "Wrap recipe of "+r.Section, "/catalog"), Back: Option{"/wraps", "Wrap recipes"}, Action: wrapAddress(r.Section), Button: "Save", Rev: r.Rev,
		Note: fmt.Sprintf("Section %s of %s, wrapped with %s. Its figures are the shop's own: the tape maker's data sheet and your process engineer have the last word.", r.Section, r.Product, r.Tape),
		Fields: []Field{
			{Name: "pitch_mm", Label: "Pitch, mm", Kind: "number", Step: "any", Least: "0", Required: true, Quiet: true, Focus: true, Hint: "How far the helix moves on with each turn."},
			{Name: "tension_n", Label: "Tension, N", Kind: "number", Step: "any", Least: "0", Required: true, Quiet: true},
			{Name: "passes", Label: "Passes", Kind: "number", Least: "1", Required: true, Quiet: true, Value: "1", Hint: "How often it is wound from end to end."},
		},
	}
	if r.Rev > 0 {
		page.Remove = wrapAddress(r.Section) + "/remove"
		page.Fields[0].Value, page.Fields[1].Value, page.Fields[2].Value = decimal(r.PitchMM), decimal(r.TensionN), strconv.Itoa(r.Passes)
	}
	return page
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (p *pages) wrap(c *gin.Context) {
	r, err := p.Books.WrapRecipe(c.Request.Context(), c.Param("section"))
	if err != nil {
		p.fail(c, err)
		return
	}
	p.showForm(c, p.wrapForm(c, r))
}

func (p *pages) setWrap(c *gin.Context) {
	ctx := c.Request.Context()
	recipe, err := p.Books.WrapRecipe(ctx, c.Param("section"))
	if err != nil {
		p.fail(c, err)
		return
	}
	r := formReader{c: c}
	terms := store.WrapTerms{PitchMM: r.number("pitch_mm"), TensionN: r.number("tension_n"), Passes: r.count("passes")}
	if err = r.err(); err == nil {
		_, err = p.Books.SetWrapRecipe(ctx, recipe.Section, terms, revOf(c))
	}
	if err != nil {
		recipe.Rev = max(0, revOf(c))
		p.refuseForm(c, err, p.wrapForm(c, recipe))
		return
	}
	done(c, "/wraps", "The wrap recipe of "+recipe.Section+" is saved.")
}

func (p *pages) removeWrap(c *gin.Context) {
	ctx, section := c.Request.Context(), c.Param("section")
	if err := p.Books.RemoveWrapRecipe(ctx, section, revOf(c)); err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/wraps", "Nothing is said any more of how "+section+" is wrapped.")
}

// A Wrapping is how a section is wrapped, for a sheet or a station.
type Wrapping struct {
	Tape  shop.Tape
	Terms *store.WrapTerms // nil where nobody has said
}

// Words says a recipe in one line.
func (f *Frame) Words(t *store.WrapTerms) string {
	passes := "1 pass"
	if t.Passes > 1 {
		passes = fmt.Sprintf("%d passes", t.Passes)
	}
	return fmt.Sprintf("pitch %s, tension %s, %s", f.Units().Pitch(t.PitchMM), tension(t.TensionN), passes)
}

// wrappings are those of all sections of a shop; where the recipes cannot be
// read, they are left for a hand to fill in.
func (p *pages) wrappings(ctx context.Context, s *shop.Shop) map[string]Wrapping {
	out := Wrappings(s)
	recipes, err := p.Books.WrapRecipes(ctx)
	if err != nil {
		p.Log.WarnContext(ctx, "no wrap recipes", "error", err)
	}
	for i := range recipes {
		if w, ok := out[recipes[i].Section]; ok && recipes[i].Rev > 0 {
			w.Terms = &recipes[i].WrapTerms
			out[recipes[i].Section] = w
		}
	}
	return out
}

// Wrappings are the tapes of all sections of a shop, which knows no recipes.
func Wrappings(s *shop.Shop) map[string]Wrapping {
	tapes := map[string]shop.Tape{}
	for _, t := range s.Tapes {
		tapes[t.ID] = t
	}
	out := map[string]Wrapping{}
	for id, section := range sectionsOf(s) {
		out[id] = Wrapping{Tape: tapes[section.Tape]}
	}
	return out
}
