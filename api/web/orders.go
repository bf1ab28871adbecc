package web

import (
	"fmt"
	"io"
	"strings"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// An OrdersPage is the sales': every open line with when it ships.
type OrdersPage struct {
	Frame
	Query  string
	Only   string // "", late, restock or held
	Lines  []LineRow
	Older  string // the address of the lines after these
	Plan   string // from which the ship dates are
	Change bool   // whether the caller may enter and change
	Back   string
}

// A LineRow is one line of demand.
type LineRow struct {
	Line, Order, Dealer  string
	DealerName           string
	Address              string // of the page that shows it
	Product, ProductName string
	Kind                 string
	Sets, Shipped        int
	Due                  shop.Date
	Promised, Ship       *shop.Date
	Unplanned            int // sets that the plan leaves out
	Complete             bool
	Held                 *store.Hold // nil: it is not held back
}

// Render writes the page.
func (p *OrdersPage) Render(w io.Writer) error { return render(w, "orders", p) }

// Against is the date that the ship date is measured by: the promised, else the
// due date.
func (r *LineRow) Against() shop.Date {
	if r.Promised != nil {
		return *r.Promised
	}
	return r.Due
}

// Late reports whether the line ships after what it is measured by, or not.
func (r *LineRow) Late() bool { return r.Unplanned > 0 || r.Ship != nil && *r.Ship > r.Against() }

// Fate says how the ship date differs from what it is measured by.
func (r *LineRow) Fate() string {
	switch {
	case r.Sets == 0:
		return "cancelled"
	case r.Shipped == r.Sets:
		return "shipped"
	case r.Held != nil:
		return "held back"
	case r.Unplanned > 0:
		return fmt.Sprintf("%d of %d not planned", r.Unplanned, r.Sets)
	case r.Ship == nil:
		return "not in a plan yet"
	}
	switch days := int(*r.Ship - r.Against()); {
	case days == 0:
		return "on the day"
	case days > 0:
		return days1(days) + " late"
	default:
		return days1(-days) + " early"
	}
}

// Ships says when a line ships, or what became of it.
func (f *Frame) Ships(r LineRow) string {
	switch {
	case r.Held != nil:
		return f.HeldBack(r.Held)
	case r.Ship == nil:
		return r.Fate()
	}
	return "ships by " + f.Date(*r.Ship) + ", " + r.Fate()
}

func days1(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// An OrderPage is one order: its lines, what its dealer may be told, and the
// forms that change it.
type OrderPage struct {
	Frame
	Order   OrderHead
	Lines   []OrderLine
	Tell    string // what the dealer may be told
	Change  bool
	Head    ChangeForm
	Another ChangeForm // one more line
	Ship    ChangeForm // without fields where the caller may not, or nothing is open
	// Products are proposed where one is typed.
	Products []string
}

// An OrderHead is what an order is besides its lines.
type OrderHead struct {
	ID, Dealer string // the dealer by name
	Reference  string // the dealer's own number
	Complete   bool
	Note       string
	Rev        int64
}

// An OrderLine is a line with the form that changes it.
type OrderLine struct {
	LineRow
	Rev  int64
	Form ChangeForm
	Hold ChangeForm // without fields where the caller may not, or nothing is open
	Lift string     // the address that lifts its hold; empty where the caller may not
}

// Render writes the page.
func (p *OrderPage) Render(w io.Writer) error { return render(w, "order", p) }

// An OrderForm is a new order as it is entered. What was asked of the planner
// about it stands below it.
type OrderForm struct {
	Frame
	Head  []Field
	Rows  []OrderRow
	Quote []QuoteRow
	Plan  string // of the quote
	// Against is the latest plan, with which that of the quote is compared; empty
	// where there is none. Late are the lines that are late by the quote's alone.
	Against string
	Late    []runs.LineMove
	// Products are proposed where one is typed.
	Products []string
}

// An OrderRow is the fields of one line of a new order.
type OrderRow struct {
	Number int
	Fields []Field
}

// A QuoteRow is when one line would ship.
type QuoteRow struct {
	Product   string
	Sets      int
	Due       shop.Date
	Ship      *shop.Date
	Unplanned int
}

// Fate says how the ship date differs from the one that is wanted.
func (r QuoteRow) Fate() string {
	return (&LineRow{Sets: r.Sets, Due: r.Due, Ship: r.Ship, Unplanned: r.Unplanned}).Fate()
}

// Late reports whether it ships after the date that is wanted, or not.
func (r QuoteRow) Late() bool { return r.Unplanned > 0 || r.Ship != nil && *r.Ship > r.Due }

// Render writes the page.
func (p *OrderForm) Render(w io.Writer) error { return render(w, "order-new", p) }

// tellDealer is what a dealer may be told of his order.
func tellDealer(f *Frame, order OrderHead, rows []LineRow) string {
	var out strings.Builder
	fmt.Fprintf(&out, "%s, order %s", f.Shop, order.ID)
	if order.Reference != "" {
		fmt.Fprintf(&out, ", your %s", order.Reference)
	}
	out.WriteString("\n")
	for _, r := range rows {
		when := "its date is not settled yet"
		switch {
		case r.Sets == 0:
			fmt.Fprintf(&out, "%s %s: cancelled\n", r.Product, r.ProductName)
			continue
		case r.Shipped == r.Sets:
			when = "shipped"
		case r.Held != nil:
			when = "on hold, without a date for now"
		case r.Promised != nil:
			when = "ships by " + f.Date(*r.Promised)
		case r.Ship != nil && r.Unplanned == 0:
			when = "planned to ship by " + f.Date(*r.Ship)
		}
		fmt.Fprintf(&out, "%d × %s %s: %s\n", r.Sets, r.Product, r.ProductName, when)
	}
	return out.String()
}
