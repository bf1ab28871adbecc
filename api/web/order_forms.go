package web

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// orderRows is how many lines a new order can be entered with at once; more are
// added on the order's own page.
const orderRows = 6

// newOrderFields are those of an order's head.
func newOrderFields(dealers []store.Dealer) []Field {
	return append([]Field{{Name: "id", Label: "Order number", Kind: "text", Hint: "Empty: the next free one."}}, termsFields(dealers, store.Order{})...)
}

// termsFields are those of what can be changed of an order as a whole.
func termsFields(dealers []store.Dealer, o store.Order) []Field {
	dealer := Field{Name: "dealer", Label: "Dealer", Kind: "select", Required: true, Value: o.Dealer, Options: []Option{{"", "–"}}}
	for _, d := range dealers {
		dealer.Options = append(dealer.Options, Option{d.ID, d.Name})
	}
	complete := Field{Name: "complete", Label: "Ships", Kind: "select", Options: []Option{
		{"", "as the dealer has it"}, {"true", "complete"}, {"false", "each set when it is ready"},
	}}
	if o.ID != "" {
		complete.Value, complete.Options = strconv.FormatBool(o.Complete), complete.Options[1:]
	}
	return []Field{
		dealer,
		{Name: "reference", Label: "The dealer's own number", Kind: "text", Value: o.Reference},
		complete,
		{Name: "note", Label: "Note", Kind: "text", Value: o.Note},
	}
}

// lineFields are those of a line, under a prefix.
func lineFields(prefix string, l store.Line) []Field {
	f := []Field{
		{Name: prefix + "product", Label: "Product", Kind: "text", List: "products", Value: l.Product},
		{Name: prefix + "quantity", Label: "Sets", Kind: "number", Least: "1"},
		{Name: prefix + "due", Label: "Due", Kind: "date"},
		{Name: prefix + "promised", Label: "Promised", Kind: "date", Value: dateOrNone(l.Promised)},
		{Name: prefix + "weight", Label: "Weight", Kind: "number", Step: "any", Least: "0"},
	}
	if prefix == "" || prefix == rowPrefix(0) {
		f[4].Hint = "Empty: the dealer's."
	}
	if l.ID != "" {
		f[1].Value, f[2].Value, f[4].Value = strconv.Itoa(l.Quantity), l.Due.String(), strconv.FormatFloat(l.Weight, 'f', -1, 64)
		f[4].Hint = ""
	}
	return f
}

// terms reads one line. A quantity that is left out is for the books to refuse.
func (r *formReader) terms(prefix string) store.LineTerms {
	out := store.LineTerms{Product: strings.TrimSpace(r.c.PostForm(prefix + "product"))}
	if r.c.PostForm(prefix+"quantity") != "" {
		out.Quantity = r.count(prefix + "quantity")
	}
	out.Due, out.Promised, out.Weight = r.date(prefix+"due"), r.dateOrNone(prefix+"promised"), r.amount(prefix+"weight")
	return out
}

func orderTerms(c *gin.Context) store.OrderTerms {
	terms := store.OrderTerms{Dealer: c.PostForm("dealer"), Reference: strings.TrimSpace(c.PostForm("reference")), Note: strings.TrimSpace(c.PostForm("note"))}
	if text := c.PostForm("complete"); text != "" {
		complete := text == "true"
		terms.Complete = &complete
	}
	return terms
}

// newOrder reads a new order. rows says, for each of its lines, in which row of
// the form it was entered: rows that were left empty are no lines.
func (r *formReader) newOrder() (order store.NewOrder, rows []int) {
	c := r.c
	order = store.NewOrder{ID: strings.TrimSpace(c.PostForm("id")), OrderTerms: orderTerms(c)}
	for i := range orderRows {
		prefix := rowPrefix(i)
		if c.PostForm(prefix+"product") == "" {
			continue
		}
		order.Lines = append(order.Lines, r.terms(prefix))
		rows = append(rows, i)
	}
	return order, rows
}

func rowPrefix(i int) string { return fmt.Sprintf("lines[%d].", i) }
