package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// OrderTerms are what holds for all of an order.
type OrderTerms struct {
	Dealer    string `json:"dealer"`
	Reference string `json:"reference"` // the dealer's own number
	Complete  *bool  `json:"complete"`  // all lines ship together; nil: the dealer's way, or what it was
	Note      string `json:"note"`
}

// A NewOrder is one to be entered. An order without an ID gets one.
type NewOrder struct {
	ID string `json:"id"`
	OrderTerms
	Lines []LineTerms `json:"lines"`
}

// An Order is a dealer's. Orders that came with a shop file have no dealer.
type Order struct {
	ID        string    `json:"id"`
	Dealer    string    `json:"dealer"`
	Reference string    `json:"reference"`
	Complete  bool      `json:"complete"`
	Note      string    `json:"note"`
	Entered   time.Time `json:"entered"`
	Rev       int64     `json:"rev"` // changes with its lines, too
	Lines     []Line    `json:"lines,omitempty"`
}

// Open reports whether something of the order is still to be shipped.
func (o Order) Open() bool {
	for _, l := range o.Lines {
		if l.Open() > 0 {
			return true
		}
	}
	return false
}

// alone is an order without its lines, which have entries of their own on the
// trail.
func (o Order) alone() Order {
	o.Lines = nil
	return o
}

type orderRow struct {
	Seq       int64 `gorm:"primaryKey"`
	ID        string
	Dealer    *string
	Reference string
	Complete  bool
	Note      string
	Entered   int64
	Rev       int64
}

func (orderRow) TableName() string { return "orders" }

func (r orderRow) order(lines []Line) Order {
	return Order{r.ID, textOf(r.Dealer), r.Reference, r.Complete, r.Note, instant(r.Entered), r.Rev, lines}
}

func takeOrder(tx *gorm.DB, id string) (orderRow, error) {
	var r orderRow
	err := tx.Where("id = ?", id).Take(&r).Error
	if missing(err) {
		err = notFound("order", id)
	}
	return r, err
}

// EnterOrder enters an order with its lines.
func (b *Books) EnterOrder(ctx context.Context, asked NewOrder) (Order, error) {
	return once(ctx, b, "enter an order", asked, func(tx *gorm.DB) (Order, error) {
		all, err := enterOrders(tx, []NewOrder{asked}, func(int) string { return "" })
		if err != nil {
			return Order{}, err
		}
		return all[0], nil
	})
}

// EnterOrders enters several orders, or none of them. Problems are named from
// "orders".
func (b *Books) EnterOrders(ctx context.Context, asked []NewOrder) ([]Order, error) {
	return once(ctx, b, "enter orders", asked, func(tx *gorm.DB) ([]Order, error) {
		return enterOrders(tx, asked, func(i int) string { return fmt.Sprintf("orders[%d].", i) })
	})
}

func enterOrders(tx *gorm.DB, asked []NewOrder, path func(i int) string) ([]Order, error) {
	if err := judgeOrders(tx, asked, path); err != nil {
		return nil, err
	}
	var out []Order
	var products []string
	for _, o := range asked {
		entered, err := enterOrder(tx, o)
		if err != nil {
			return nil, err
		}
		out = append(out, entered)
		for _, l := range o.Lines {
			products = append(products, l.Product)
		}
	}
	return out, restock(tx, unique(products)...)
}

func judgeOrders(tx *gorm.DB, asked []NewOrder, path func(i int) string) error {
	known, err := productsOf(tx)
	if err != nil {
		return err
	}
	var p findings
	if len(asked) == 0 {
		p.say("orders", "has 0 entries, but must have at least 1")
	}
	here := map[string]bool{}
	for i, o := range asked {
		at := path(i)
		if o.ID != "" {
			p.id(at+"id", o.ID)
			_, err := takeOrder(tx, o.ID)
			switch {
			case err == nil || here[o.ID]:
				p.say(at+"id", "there is an order %q already", o.ID)
			case !isNotFound(err):
				return err
			}
			here[o.ID] = true
		}
		if err := p.order(tx, at, o.OrderTerms); err != nil {
			return err
		}
		if len(o.Lines) == 0 {
			p.say(at+"lines", "has 0 entries, but must have at least 1")
		}
		for j, l := range o.Lines {
			p.line(fmt.Sprintf("%slines[%d].", at, j), l, known)
		}
	}
	return p.err()
}

// order judges an order's own terms.
func (p *findings) order(tx *gorm.DB, path string, terms OrderTerms) error {
	p.text(path+"reference", terms.Reference, lineLength)
	p.text(path+"note", terms.Note, noteLength)
	if terms.Dealer == "" {
		p.say(path+"dealer", "is missing")
		return nil
	}
	return p.dealer(tx, path+"dealer", terms.Dealer)
}

func enterOrder(tx *gorm.DB, o NewOrder) (Order, error) {
	dealer, err := takeDealer(tx, o.Dealer)
	if err != nil {
		return Order{}, err
	}
	row := orderRow{
		ID: o.ID, Dealer: &dealer.ID, Reference: o.Reference, Complete: dealer.Complete, Note: o.Note, Entered: millis(tx), Rev: 1,
	}
	if o.Complete != nil {
		row.Complete = *o.Complete
	}
	if row.ID == "" {
		if row.ID, err = nextID(tx, &orderRow{}, "O"); err != nil {
			return Order{}, err
		}
	}
	if err := errors.Join(tx.Create(&row).Error, trail(tx, "order", row.ID, "entered", nil, row.order(nil))); err != nil {
		return Order{}, err
	}
	lines, err := enterLines(tx, row, o.Lines)
	return row.order(lines), err
}

// unique returns texts once each, in the order in which they come first.
func unique(texts []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, t := range texts {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}

// touch gives an order its next revision, because something of it has changed.
func touch(tx *gorm.DB, id string) error {
	return tx.Model(&orderRow{}).Where("id = ?", id).Update("rev", gorm.Expr("rev + 1")).Error
}
