package rest

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/csvlist"
	"blankwright/api/respond"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

type csvInput struct {
	Dealer  string `query:"dealer" required:"true" minLength:"1" maxLength:"200" doc:"Whose list it is"`
	DryRun  bool   `query:"dry_run" doc:"Tell what would be entered, and enter nothing"`
	RawBody []byte `contentType:"text/csv"`
	Once
}

type csvOrdersAnswer struct {
	Body struct {
		DryRun bool        `json:"dry_run"`
		Lines  int         `json:"lines" doc:"How many in all"`
		Orders []orderBody `json:"orders" doc:"As they were entered, or would be"`
	}
}

// demandCSV adds demand as lists: a dealer's comes in, all of it goes out.
func demandCSV(r *routes) {
	add(r, operation{
		name: "enter-csv", may: "change-orders", method: "POST", path: "/demand.csv", tag: "orders",
		does: "Enter a dealer's list of lines", status: http.StatusOK, shape: func(o *huma.Operation) { o.MaxBodyBytes = maxThing },
		more: "The first row names the columns: product, quantity and due, and, where wanted, order, weight, promised, complete (yes or no). " +
			"Rows with the same order are one order, under that reference; those without one are one order together. " +
			"All rows are entered, or none; each row's problems are told as row[LINE].COLUMN, by the file's own lines.",
	}, r.enterCSV)
	add(r, operation{
		name: "read-csv", may: "read-demand", method: "GET", path: "/demand.csv", tag: "orders",
		does: "All open lines as a list, the first due first", more: "A cell that a spreadsheet would take for a formula has an apostrophe before it.",
		shape: func(o *huma.Operation) {
			o.Responses = map[string]*huma.Response{"200": {
				Description: "CSV (RFC 4180) in UTF-8",
				Content:     map[string]*huma.MediaType{"text/csv": {Schema: &huma.Schema{Type: huma.TypeString}}},
			}}
		},
	}, r.readCSV)
}

func (r *routes) enterCSV(ctx context.Context, in *csvInput) (*csvOrdersAnswer, error) {
	rows, problems := csvlist.Read(in.RawBody)
	list := newDealerList(in.Dealer, rows)
	ctx = in.in(ctx)
	if in.DryRun || len(problems) > 0 {
		ctx = store.WithTrial(ctx)
	}
	var entered []store.Order
	if len(rows) > 0 {
		var err error
		if entered, err = r.Books.EnterOrders(ctx, list.orders); err != nil {
			if problems, err = list.merge(problems, err); err != nil {
				return nil, err
			}
		}
	}
	if len(problems) > 0 {
		return nil, rowProblems(problems)
	}
	answer := &csvOrdersAnswer{}
	answer.Body.DryRun, answer.Body.Lines, answer.Body.Orders = in.DryRun, len(rows), []orderBody{}
	for i := range entered {
		answer.Body.Orders = append(answer.Body.Orders, orderOf(&entered[i]))
	}
	return answer, nil
}

// A dealerList is a list as orders, and where their parts stand in it.
type dealerList struct {
	orders []store.NewOrder
	row    map[string]int // the file's line of each path of an order or a line
}

func newDealerList(dealer string, rows []csvlist.Row) *dealerList {
	l := &dealerList{row: map[string]int{}}
	at := map[string]int{}
	for _, row := range rows {
		i, known := at[row.Order]
		if !known {
			i = len(l.orders)
			at[row.Order] = i
			l.orders = append(l.orders, store.NewOrder{OrderTerms: store.OrderTerms{Dealer: dealer, Reference: row.Order}})
			l.row[fmt.Sprintf("orders[%d]", i)] = row.Number
		}
		o := &l.orders[i]
		if row.Complete != nil {
			o.Complete = row.Complete
		}
		l.row[fmt.Sprintf("orders[%d].lines[%d]", i, len(o.Lines))] = row.Number
		o.Lines = append(o.Lines, store.LineTerms{
			Product: row.Product, Quantity: row.Quantity, Due: row.Due, Weight: row.Weight, Promised: row.Promised,
		})
	}
	return l
}

// merge adds what the books find wrong to what the list's form had, but where
// that was told already.
func (l *dealerList) merge(problems []csvlist.Problem, err error) ([]csvlist.Problem, error) {
	var found strict.Problems
	if !errors.As(err, &found) {
		return nil, err
	}
	told := map[string]bool{}
	for _, p := range problems {
		told[fmt.Sprint(p.Row, p.Column)], told[fmt.Sprint(p.Row)] = true, p.Column == ""
	}
	for _, f := range found {
		p := l.place(f)
		if key := fmt.Sprint(p.Row, p.Column); !told[key] && !told[fmt.Sprint(p.Row)] {
			told[key] = true
			problems = append(problems, p)
		}
	}
	return problems, nil
}

// place finds the row and the column that a problem of the books is about. One
// of the dealer is about the list as a whole.
func (l *dealerList) place(f strict.Problem) csvlist.Problem {
	cut := strings.LastIndex(f.Path, ".")
	if cut < 0 {
		return csvlist.Problem{Message: f.String()}
	}
	column := f.Path[cut+1:]
	switch column {
	case "dealer":
		return csvlist.Problem{Column: column, Message: f.Message}
	case "reference":
		column = "order"
	}
	return csvlist.Problem{Row: l.row[f.Path[:cut]], Column: column, Message: f.Message}
}

// rowProblems tells of all that is wrong with a list, row by row.
func rowProblems(problems []csvlist.Problem) *respond.Problem {
	detail := "1 problem"
	if len(problems) > 1 {
		detail = fmt.Sprintf("%d problems", len(problems))
	}
	p := respond.New(http.StatusUnprocessableEntity, detail+"; nothing is entered")
	slices.SortStableFunc(problems, func(x, y csvlist.Problem) int { return cmp.Compare(x.Row, y.Row) })
	for _, problem := range problems {
		location := "body"
		switch {
		case problem.Row == 0 && problem.Column == "dealer":
			location = "query.dealer"
		case problem.Row > 0 && problem.Column != "":
			location = fmt.Sprintf("row[%d].%s", problem.Row, problem.Column)
		case problem.Row > 0:
			location = fmt.Sprintf("row[%d]", problem.Row)
		}
		p.Errors = append(p.Errors, respond.Field{Location: location, Message: problem.Message})
	}
	return p
}

func (r *routes) readCSV(ctx context.Context, _ *nothing) (*fileAnswer, error) {
	var out bytes.Buffer
	w := csvlist.NewWriter(&out, "line", "kind", "order", "dealer", "product", "quantity", "shipped", "cancelled", "open", "due", "promised", "weight", "complete", "held", "held_until")
	filter := store.LineFilter{Open: true, Limit: store.MaxPage}
	for {
		page, err := r.Books.Lines(ctx, filter)
		if err != nil {
			return nil, err
		}
		for i := range page {
			w.Row(cells(&page[i])...)
		}
		if len(page) < filter.Limit {
			break
		}
		filter.After = page[len(page)-1].ID
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return &fileAnswer{ContentType: "text/csv; charset=utf-8", Disposition: `attachment; filename="demand.csv"`, Body: out.Bytes()}, nil
}

func cells(l *store.Line) []string {
	complete, held, until := "no", "", ""
	if l.Complete {
		complete = "yes"
	}
	if l.Hold != nil {
		held, until = l.Hold.Why, cellOf(l.Hold.Until)
	}
	return []string{
		l.ID, l.Kind, l.Order, l.Dealer, l.Product, strconv.Itoa(l.Quantity), strconv.Itoa(l.Shipped), strconv.Itoa(l.Cancelled),
		strconv.Itoa(l.Open()), l.Due.String(), cellOf(l.Promised), strconv.FormatFloat(l.Weight, 'g', -1, 64), complete, held, until,
	}
}

// cellOf writes a date that may not be there.
func cellOf(d *shop.Date) string {
	if d == nil {
		return ""
	}
	return d.String()
}
