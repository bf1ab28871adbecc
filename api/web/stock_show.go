package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// StockBooks are what the pages about stock ask of the books.
type StockBooks interface {
	Stock(ctx context.Context) ([]store.Holding, error)
	Level(ctx context.Context, product string) (store.Level, error)
	PutLevel(ctx context.Context, product string, terms store.LevelTerms, rev int64) (store.Level, error)
	RemoveLevel(ctx context.Context, product string, rev int64) error
	MoveStock(ctx context.Context, product string, sets int, why, note string) (store.StockMove, error)
	StockMoves(ctx context.Context, f store.StockFilter) ([]store.StockMove, error)
	EnterRestock(ctx context.Context, terms store.LineTerms) (store.Line, error)
}

func (p *pages) stockRoutes() []route {
	return []route{
		get("/stock", "see-pages", p.stock),
		get("/stock/:product", "see-pages", func(c *gin.Context) { p.stockOf(c, c.Param("product"), refusal{status: http.StatusOK}) }),
		post("/stock/:product/level", "change-restock", p.putLevel),
		post("/stock/:product/level/remove", "change-restock", p.removeLevel),
		post("/stock/:product/move", "move-stock", p.moveStock),
		post("/stock/:product/restock", "change-restock", p.enterRestock),
	}
}

func stockAddress(product string) string { return "/stock/" + url.PathEscape(product) }

func (p *pages) stock(c *gin.Context) {
	page := &StockPage{Frame: p.frame(c, "Stock", "/stock"), Change: may(c, "change-restock")}
	var err error
	if page.Rows, err = p.stockRows(c.Request.Context()); err != nil && !p.empty(c.Request.Context()) {
		p.fail(c, err)
		return
	}
	p.show(c, http.StatusOK, "stock", page)
}

// stockRows are the products on the shelf, each with the lines for it.
func (p *pages) stockRows(ctx context.Context) ([]StockRow, error) {
	holdings, err := p.Books.Stock(ctx)
	if err != nil {
		return nil, err
	}
	names, err := p.productNames(ctx)
	if err != nil {
		return nil, err
	}
	lines, err := p.openLines(ctx, store.LineFilter{Kind: shop.KindRestock})
	if err != nil {
		return nil, err
	}
	ships := p.ships(ctx)
	shelf := map[string][]LineRow{}
	for i := range lines {
		if lines[i].ToShelf() {
			shelf[lines[i].Product] = append(shelf[lines[i].Product], ships.row(&lines[i]))
		}
	}
	var out []StockRow
	for _, h := range holdings {
		out = append(out, StockRow{Holding: h, Name: names[h.Product], Address: stockAddress(h.Product), Restock: shelf[h.Product]})
	}
	return out, nil
}

// openLines are all lines of some sort of which something is open.
func (p *pages) openLines(ctx context.Context, f store.LineFilter) ([]store.Line, error) {
	f.Open = true
	return all(func(after string) ([]store.Line, error) {
		f.After = after
		return p.Books.Lines(ctx, f)
	}, func(l store.Line) string { return l.ID })
}

func (p *pages) productNames(ctx context.Context) (map[string]string, error) {
	things, err := p.Books.Things(ctx, "product")
	names := map[string]string{}
	for _, t := range things {
		var named struct{ Name string }
		if err := json.Unmarshal(t.Body, &named); err != nil {
			return nil, err
		}
		names[t.ID] = named.Name
	}
	return names, err
}

const movesAtOnce = 50

// stockOf shows a product's stock, and a form of the page as it was refused.
func (p *pages) stockOf(c *gin.Context, product string, again refusal) {
	ctx := c.Request.Context()
	page := &ShelfPage{Frame: p.frame(c, "Stock of "+product, "/stock"), May: shelving(c)}
	err := p.holdingOf(ctx, page, product)
	if err == nil {
		err = p.shelfLines(ctx, page, product, &again)
	}
	if err == nil {
		err = p.stockMoves(c, page, product)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	page.shelfForms(&again)
	page.Wrong = again.left()
	if again.status != http.StatusOK {
		page.Path = stockAddress(product)
	}
	p.show(c, again.status, "shelf", page)
}

func shelving(c *gin.Context) Shelving {
	return Shelving{Restock: may(c, "change-restock"), Move: may(c, "move-stock"), Change: may(c, "change-orders"), Send: may(c, "ship"), Hold: may(c, "hold-lines")}
}

// holdingOf finds what there is of a product, and its level.
func (p *pages) holdingOf(ctx context.Context, page *ShelfPage, product string) error {
	rows, err := p.stockRows(ctx)
	if err != nil {
		return err
	}
	for _, row := range rows {
		if row.Product == product {
			page.Row = row
		}
	}
	if page.Row.Product == "" {
		return fmt.Errorf("there is no product %q: %w", product, store.ErrNotFound)
	}
	level, err := p.Books.Level(ctx, product)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	page.Level = &level
	return err
}

// shelfLines are the open lines that ask for a product.
func (p *pages) shelfLines(ctx context.Context, page *ShelfPage, product string, again *refusal) error {
	lines, err := p.openLines(ctx, store.LineFilter{Product: product})
	if err != nil {
		return err
	}
	ships := p.ships(ctx)
	for i := range lines {
		l := &lines[i]
		line := ShelfLine{OrderLine: orderLine(l, &ships, again, page.May.Hold && l.ToShelf()), Level: l.Level}
		switch {
		case !l.ToShelf():
			line.Address = lineAddress(l)
		case !l.Level:
			line.Send = sendForm(l, "It lies on the shelf", "Write it down")
			again.into(&line.Send, sendOf(l.ID))
		}
		page.Lines = append(page.Lines, line)
	}
	return nil
}

func (p *pages) stockMoves(c *gin.Context, page *ShelfPage, product string) error {
	filter := store.StockFilter{Product: product, Limit: movesAtOnce}
	if text := c.Query("before"); text != "" {
		var err error
		if filter.Before, err = idIn(text); err != nil {
			return err
		}
	}
	var err error
	page.Moves, err = p.Books.StockMoves(c.Request.Context(), filter)
	if n := len(page.Moves); n == movesAtOnce {
		page.Older = fmt.Sprintf("%s?before=%d", stockAddress(product), page.Moves[n-1].ID)
	}
	return err
}

// The names of a product's forms, by which one that was refused is found again.
const (
	formLevel   = "level"
	formMove    = "move"
	formRestock = "restock"
)

// shelfForms are the forms of a product's page.
func (p *ShelfPage) shelfForms(again *refusal) {
	address := stockAddress(p.Row.Product)
	p.SetLevel = ChangeForm{Title: "Set its level", Action: address + "/level", Button: "Set the level", Fields: levelFields(p.Level)}
	p.Move = ChangeForm{Title: "Count, scrap or take back", Action: address + "/move", Button: "Write it down", Fields: moveFields()}
	p.Restock = ChangeForm{Title: "Ask for sets for the shelf", Action: address + "/restock", Button: "Ask for them", Fields: restockFields()}
	again.into(&p.SetLevel, formLevel)
	again.into(&p.Move, formMove)
	again.into(&p.Restock, formRestock)
}

// usualLevel is what a new level begins with: a fortnight, as a claim has.
var usualLevel = store.LevelTerms{Days: 14, Weight: 1}

func levelFields(level *store.Level) []Field {
	terms, sets := usualLevel, ""
	if level != nil {
		terms, sets = level.LevelTerms, strconv.Itoa(level.Sets)
	}
	return []Field{
		{Name: "sets", Label: "Sets", Kind: "number", Least: "0", Required: true, Quiet: true, Value: sets, Hint: "That should lie here when every other line is served."},
		{Name: "days", Label: "Days", Kind: "number", Least: "0", Required: true, Quiet: true, Value: strconv.Itoa(terms.Days), Hint: "What is missing is due so many days after it came to be missing."},
		{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0", Required: true, Quiet: true, Value: strconv.FormatFloat(terms.Weight, 'f', -1, 64), Hint: "How much a day late costs, against others'."},
	}
}

func moveFields() []Field {
	return []Field{
		{Name: "why", Label: "What", Kind: "select", Required: true, Quiet: true, Options: []Option{
			{store.StockCounted, "a count found more or less"}, {store.StockScrapped, "no longer good"}, {store.StockReturned, "came back good"},
		}},
		{Name: "sets", Label: "Sets", Kind: "number", Required: true, Quiet: true, Hint: "That came; below 0, that went. Of a count, the difference."},
		{Name: "note", Label: "Note", Kind: "text"},
	}
}

func restockFields() []Field {
	return []Field{
		{Name: "quantity", Label: "Sets", Kind: "number", Least: "1", Required: true, Quiet: true},
		{Name: "due", Label: "Due", Kind: "date", Required: true, Quiet: true},
		{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0", Hint: "Empty: 1."},
	}
}

// refuseStock shows a product's page again with the form that was refused.
func (p *pages) refuseStock(c *gin.Context, form string, fields []Field, err error) {
	f := filled{values: c.Request.PostForm}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	p.stockOf(c, c.Param("product"), refusal{status: status, form: form, filled: f, whole: whole})
}

func (p *pages) putLevel(c *gin.Context) {
	product, r := c.Param("product"), formReader{c: c}
	terms := store.LevelTerms{Sets: r.count("sets"), Days: r.count("days"), Weight: r.number("weight")}
	err := r.err()
	if err == nil {
		_, err = p.Books.PutLevel(c.Request.Context(), product, terms, revOf(c))
	}
	if err != nil {
		p.refuseStock(c, formLevel, levelFields(nil), err)
		return
	}
	done(c, stockAddress(product), "The level is set. What is short of it is asked for by itself; plan again to see when it comes.")
}

func (p *pages) removeLevel(c *gin.Context) {
	product := c.Param("product")
	if err := p.Books.RemoveLevel(c.Request.Context(), product, revOf(c)); err != nil {
		c.Request.PostForm = nil // of the form beside it nothing was sent
		p.refuseStock(c, formLevel, nil, err)
		return
	}
	done(c, stockAddress(product), "The level is taken away, and so is what it asked for.")
}

func (p *pages) moveStock(c *gin.Context) {
	product, r := c.Param("product"), formReader{c: c}
	sets, err := r.count("sets"), r.err()
	if err == nil {
		_, err = p.Books.MoveStock(c.Request.Context(), product, sets, c.PostForm("why"), strings.TrimSpace(c.PostForm("note")))
	}
	if err != nil {
		p.refuseStock(c, formMove, moveFields(), err)
		return
	}
	done(c, stockAddress(product), "It is written down.")
}

func (p *pages) enterRestock(c *gin.Context) {
	product, r := c.Param("product"), formReader{c: c}
	terms := store.LineTerms{Product: product, Quantity: r.count("quantity"), Due: r.date("due"), Weight: r.amount("weight")}
	var entered store.Line
	err := r.into(func(ctx context.Context) (err error) {
		entered, err = p.Books.EnterRestock(ctx, terms)
		return err
	}, asNamed)
	if err != nil {
		p.refuseStock(c, formRestock, restockFields(), err)
		return
	}
	done(c, stockAddress(product), "Line "+entered.ID+" asks for them. Plan again to see when they come.")
}
