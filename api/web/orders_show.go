package web

import (
	"context"
	"encoding/csv"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// OrdersBooks are what the sales' pages ask of the books.
type OrdersBooks interface {
	Lines(ctx context.Context, f store.LineFilter) ([]store.Line, error)
	Line(ctx context.Context, id string) (store.Line, error)
	Order(ctx context.Context, id string) (store.Order, error)
	Dealers(ctx context.Context) ([]store.Dealer, error)
	EnterOrder(ctx context.Context, asked store.NewOrder) (store.Order, error)
	ChangeOrder(ctx context.Context, id string, terms store.OrderTerms, rev int64) (store.Order, error)
	CancelOrder(ctx context.Context, id string, rev int64) (store.Order, error)
	AddLine(ctx context.Context, order string, terms store.LineTerms, rev int64) (store.Line, error)
	ChangeLine(ctx context.Context, id string, terms store.LineTerms, rev int64) (store.Line, error)
	CancelLine(ctx context.Context, id string, rev int64) (store.Line, error)
}

func (p *pages) orderRoutes() []route {
	return []route{
		get("/orders", "see-pages", p.orders),
		get("/orders.csv", "see-pages", p.ordersCSV),
		get("/ship-dates.ics", "see-pages", p.shipDates),
		get("/orders/new", "change-orders", p.newOrder),
		post("/orders/new", "change-orders", p.enterOrder),
		get("/orders/quote/:run", "change-orders", p.quote),
		get("/orders/show/:id", "see-pages", p.order),
		post("/orders/show/:id", "change-orders", p.changeOrder),
		post("/orders/show/:id/cancel", "change-orders", p.cancelOrder),
		post("/orders/show/:id/lines", "change-orders", p.addLine),
	}
}

const linesAtOnce = 400

func (p *pages) orders(c *gin.Context) {
	page := &OrdersPage{Frame: p.frame(c, "Orders", "/orders"), Query: c.Query("q"), Only: c.Query("only"), Change: may(c, "change-orders")}
	rows, plan, err := p.lineRows(c.Request.Context(), page.Query, page.Only)
	if err != nil {
		p.fail(c, err)
		return
	}
	page.Plan = plan
	from, _ := strconv.Atoi(c.Query("from"))
	from = min(max(from, 0), len(rows))
	page.Lines = rows[from:min(len(rows), from+linesAtOnce)]
	if from+linesAtOnce < len(rows) {
		page.Older = "/orders?" + url.Values{"q": {page.Query}, "only": {page.Only}, "from": {strconv.Itoa(from + linesAtOnce)}}.Encode()
	}
	p.show(c, http.StatusOK, "orders", page)
}

// lineRows returns the open lines with their ship dates by the latest plan,
// those that a search asks for, and the name of that plan.
func (p *pages) lineRows(ctx context.Context, text, only string) ([]LineRow, string, error) {
	filter := store.LineFilter{Text: text}
	switch only {
	case shop.KindRestock:
		filter.Kind = only
	case onlyHeld:
		filter.Held = true
	}
	lines, err := p.openLines(ctx, filter)
	if err != nil {
		return nil, "", err
	}
	ships := p.ships(ctx)
	var out []LineRow
	for i := range lines {
		row := ships.row(&lines[i])
		if only != "late" || row.Late() {
			out = append(out, row)
		}
	}
	return out, ships.plan, nil
}

// onlyHeld asks for the lines that are held back.
const onlyHeld = "held"

// ships are the ship dates of the latest plan, the products' and the dealers'
// names, and the day on which a hold lasts or not.
type ships struct {
	today   shop.Date
	plan    string
	lines   map[string]*runs.Shipping
	names   map[string]string
	dealers map[string]string
}

// ships reads the latest plan; where there is none, nothing is known.
func (p *pages) ships(ctx context.Context) ships {
	names, err := p.productNames(ctx)
	if err != nil {
		names = nil // the id does, too
	}
	s := ships{today: p.today(ctx), dealers: p.dealerNames(ctx), names: names}
	view, err := p.Runs.Views().Latest(ctx)
	if err != nil {
		return s
	}
	s.plan, s.lines = "plan "+strconv.FormatInt(view.ID, 10), map[string]*runs.Shipping{}
	for i := range view.Shippings {
		s.lines[view.Shippings[i].Line.ID] = &view.Shippings[i]
	}
	return s
}

// dealerNames are the dealers' names, by id; none where they cannot be read, for
// the id does, too.
func (p *pages) dealerNames(ctx context.Context) map[string]string {
	dealers, err := p.Books.Dealers(ctx)
	if err != nil {
		return nil
	}
	names := map[string]string{}
	for _, d := range dealers {
		names[d.ID] = d.Name
	}
	return names
}

// row is a line of the books with when it ships.
func (s *ships) row(l *store.Line) LineRow {
	row := LineRow{
		Line: l.ID, Order: l.Order, Dealer: l.Dealer, DealerName: s.dealers[l.Dealer], Address: lineAddress(l), Product: l.Product, ProductName: s.names[l.Product], Kind: l.Kind,
		Sets: l.Quantity - l.Cancelled, Shipped: l.Shipped, Due: l.Due, Promised: l.Promised, Complete: l.Complete,
	}
	if l.Held(s.today) {
		row.Held = l.Hold
		return row
	}
	if planned := s.lines[l.ID]; planned != nil && l.Open() > 0 {
		row.Ship, row.Unplanned = planned.Ship, planned.Unplanned
	}
	return row
}

// ordersCSV is the list of open lines for a spreadsheet.
func (p *pages) ordersCSV(c *gin.Context) {
	rows, _, err := p.lineRows(c.Request.Context(), c.Query("q"), c.Query("only"))
	if err != nil {
		p.fail(c, err)
		return
	}
	c.Header("Content-Type", "text/csv; charset=utf-8")
	c.Header("Content-Disposition", `attachment; filename="open-lines.csv"`)
	w := csv.NewWriter(c.Writer)
	records := [][]string{{"line", "order", "dealer", "product", "sets", "shipped", "due", "promised", "ships_by", "not_planned", "held", "dealer_name", "product_name"}}
	for _, r := range rows {
		records = append(records, []string{
			harmless(r.Line), harmless(r.Order), harmless(r.Dealer), harmless(r.Product), strconv.Itoa(r.Sets), strconv.Itoa(r.Shipped),
			r.Due.String(), dateOrNone(r.Promised), dateOrNone(r.Ship), strconv.Itoa(r.Unplanned), harmless(whyOf(r.Held)), harmless(r.DealerName), harmless(r.ProductName),
		})
	}
	if err := w.WriteAll(records); err != nil {
		p.Log.WarnContext(c.Request.Context(), "list of lines not sent", "error", err)
	}
}

// whyOf is why a line is held back; empty where it is not.
func whyOf(h *store.Hold) string {
	if h == nil {
		return ""
	}
	return h.Why
}

// harmless keeps a spreadsheet from taking a name for a formula.
func harmless(text string) string {
	if strings.ContainsAny(text[:min(1, len(text))], "=+-@\t\r") {
		return "'" + text
	}
	return text
}

func dateOrNone(d *shop.Date) string {
	if d == nil {
		return ""
	}
	return d.String()
}
