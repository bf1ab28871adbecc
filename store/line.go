package store

import (
	"context"
	"errors"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// LineTerms are what is asked for on one line of demand.
type LineTerms struct {
	Product  string     `json:"product"`
	Quantity int        `json:"quantity"`
	Due      shop.Date  `json:"due"`
	Weight   *float64   `json:"weight"`   // nil: the dealer's, or what it was, or 1
	Promised *shop.Date `json:"promised"` // nil: nothing is promised
}

// A Line is one row of demand: a dealer's, a claim's, or one for the shelf.
type Line struct {
	ID        string     `json:"id"`
	Kind      string     `json:"kind"`   // shop.KindOrder or shop.KindRestock
	Order     string     `json:"order"`  // empty where it is of none
	Claim     string     `json:"claim"`  // empty where it is of none
	Dealer    string     `json:"dealer"` // of the order; empty where there is none
	Level     bool       `json:"level"`  // it follows from a stock level, and cannot be changed by itself
	Product   string     `json:"product"`
	Quantity  int        `json:"quantity"`
	Shipped   int        `json:"shipped"`
	Cancelled int        `json:"cancelled"`
	Due       shop.Date  `json:"due"`
	Weight    float64    `json:"weight"`
	Promised  *shop.Date `json:"promised"`       // nil: nothing is promised
	Complete  bool       `json:"complete"`       // ships with the other lines of its order that say so
	Hold      *Hold      `json:"hold,omitempty"` // nil: it is not held back
	Rev       int64      `json:"rev"`
}

// Open is how many sets are still to be shipped.
func (l Line) Open() int { return l.Quantity - l.Shipped - l.Cancelled }

// ToShelf reports whether the line's sets stay in stock instead of being sent.
func (l Line) ToShelf() bool { return l.Kind == shop.KindRestock && l.Claim == "" }

type lineRow struct {
	Seq       int64 `gorm:"primaryKey"`
	ID        string
	Kind      string
	OrderID   *string
	Claim     *string
	Level     bool
	Product   string
	Quantity  int
	Shipped   int
	Cancelled int
	Due       string
	Weight    float64
	Promised  *string
	Complete  bool
	Held      *string
	HeldUntil *string
	Rev       int64
	Dealer    *string `gorm:"->"` // of the order, where a query joins it
}

func (lineRow) TableName() string { return "lines" }

// openLine holds for lines of which something is still to be shipped.
const openLine = "shipped + cancelled < quantity"

func (r lineRow) open() int { return r.Quantity - r.Shipped - r.Cancelled }

func (r lineRow) line() Line {
	l := Line{
		ID: r.ID, Kind: r.Kind, Order: textOf(r.OrderID), Claim: textOf(r.Claim), Dealer: textOf(r.Dealer), Level: r.Level,
		Product: r.Product, Quantity: r.Quantity, Shipped: r.Shipped, Cancelled: r.Cancelled,
		Due: dateOf(r.Due), Weight: r.Weight, Complete: r.Complete, Hold: r.hold(), Rev: r.Rev,
	}
	if r.Promised != nil {
		promised := dateOf(*r.Promised)
		l.Promised = &promised
	}
	return l
}

// set takes in terms that were judged.
func (r *lineRow) set(terms LineTerms) {
	r.Product, r.Quantity, r.Due, r.Promised = terms.Product, terms.Quantity, terms.Due.String(), nil
	if terms.Weight != nil {
		r.Weight = *terms.Weight
	}
	if terms.Promised != nil {
		promised := terms.Promised.String()
		r.Promised = &promised
	}
}

func textOf(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

// orNull is how the books hold a reference that may be empty.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

// dateOf reads a date that the books wrote.
func dateOf(text string) (d shop.Date) {
	if err := d.UnmarshalText([]byte(text)); err != nil {
		panic("store: the books hold " + err.Error())
	}
	return d
}

// line judges the terms of a line.
func (p *findings) line(path string, terms LineTerms, known productSet) {
	p.product(path+"product", terms.Product, known)
	p.count(path+"quantity", terms.Quantity, 1)
	p.date(path+"due", terms.Due)
	if terms.Weight != nil {
		p.amount(path+"weight", *terms.Weight)
	}
	if terms.Promised != nil {
		p.date(path+"promised", *terms.Promised)
	}
}

func takeLine(tx *gorm.DB, id string) (lineRow, error) {
	var r lineRow
	err := withDealers(tx).Where("lines.id = ?", id).Take(&r).Error
	if missing(err) {
		err = notFound("line", id)
	}
	return r, err
}

// withDealers reads lines with the dealers of their orders.
func withDealers(tx *gorm.DB) *gorm.DB {
	return tx.Model(&lineRow{}).Select("lines.*, orders.dealer").Joins("LEFT JOIN orders ON orders.id = lines.order_id")
}

// AddLine adds a line to an order. rev is the order's.
func (b *Books) AddLine(ctx context.Context, order string, terms LineTerms, rev int64) (Line, error) {
	asked := struct {
		Order string
		LineTerms
	}{order, terms}
	return once(ctx, b, "add a line", asked, func(tx *gorm.DB) (Line, error) {
		o, err := takeOrder(tx, order)
		if err == nil {
			err = checkRev("order", order, rev, o.Rev)
		}
		if err != nil {
			return Line{}, err
		}
		known, err := productsOf(tx)
		if err != nil {
			return Line{}, err
		}
		var p findings
		if p.line("", terms, known); p.err() != nil {
			return Line{}, p.err()
		}
		lines, err := enterLines(tx, o, []LineTerms{terms})
		if err != nil {
			return Line{}, err
		}
		return lines[0], errors.Join(touch(tx, order), restock(tx, terms.Product))
	})
}

// enterLines writes lines of an order. Whoever calls it has the products
// restocked.
func enterLines(tx *gorm.DB, o orderRow, all []LineTerms) ([]Line, error) {
	weight, err := defaultWeight(tx, o.Dealer)
	if err != nil {
		return nil, err
	}
	var had int64
	if err := tx.Model(&lineRow{}).Where("order_id = ?", o.ID).Count(&had).Error; err != nil {
		return nil, err
	}
	var hold *Hold
	if o.Complete {
		if hold, err = holdOf(tx, o.ID); err != nil {
			return nil, err
		}
	}
	var out []Line
	for i, terms := range all {
		row := lineRow{Kind: shop.KindOrder, OrderID: &o.ID, Dealer: o.Dealer, Weight: weight, Complete: o.Complete, Rev: 1}
		row.set(terms)
		row.setHold(hold)
		next := func(n int) string { return fmt.Sprintf("%s/%d", o.ID, int(had)+i+n) }
		if row.ID, err = freeID(tx, &lineRow{}, next(1), next); err != nil {
			return nil, err
		}
		if err := enterLine(tx, &row); err != nil {
			return nil, err
		}
		out = append(out, row.line())
	}
	return out, nil
}

func enterLine(tx *gorm.DB, row *lineRow) error {
	if err := tx.Create(row).Error; err != nil {
		return err
	}
	return trail(tx, "line", row.ID, "entered", nil, row.line())
}

func defaultWeight(tx *gorm.DB, dealer *string) (float64, error) {
	if dealer == nil {
		return 1, nil
	}
	d, err := takeDealer(tx, *dealer)
	return d.Weight, err
}

// EnterRestock makes a line for the shelf by hand, of no order and no claim.
func (b *Books) EnterRestock(ctx context.Context, terms LineTerms) (Line, error) {
	return once(ctx, b, "enter restock", terms, func(tx *gorm.DB) (Line, error) {
		known, err := productsOf(tx)
		if err != nil {
			return Line{}, err
		}
		var p findings
		if p.line("", terms, known); p.err() != nil {
			return Line{}, p.err()
		}
		row := lineRow{Kind: shop.KindRestock, Weight: 1, Rev: 1}
		row.set(terms)
		if row.ID, err = nextID(tx, &lineRow{}, "R"); err != nil {
			return Line{}, err
		}
		return row.line(), errors.Join(enterLine(tx, &row), restock(tx, terms.Product))
	})
}
