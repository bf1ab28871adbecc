package store

import (
	"context"

	"gorm.io/gorm"
)

// An OrderFilter asks for some orders. What is empty or zero asks for any.
type OrderFilter struct {
	Dealer  string
	Product string // that a line is for
	Text    string // within the order's id, reference or dealer, or a line's product
	Open    bool   // only those with something still to ship
	After   string // the last order of the page before
	Limit   int    // 0 is MaxPage
}

// Orders returns orders with their lines, the newest first.
func (b *Books) Orders(ctx context.Context, f OrderFilter) ([]Order, error) {
	var out []Order
	err := b.read(ctx, func(tx *gorm.DB) error {
		query, err := f.apply(tx)
		if err != nil {
			return err
		}
		var rows []orderRow
		if err := query.Order("orders.seq DESC").Limit(page(f.Limit)).Find(&rows).Error; err != nil {
			return err
		}
		out, err = wholeOrders(tx, rows)
		return err
	})
	return out, doing(err, "orders")
}

// Order returns one order with its lines.
func (b *Books) Order(ctx context.Context, id string) (Order, error) {
	var out Order
	err := b.read(ctx, func(tx *gorm.DB) error {
		r, err := takeOrder(tx, id)
		if err != nil {
			return err
		}
		out, err = wholeOrder(tx, r)
		return err
	})
	return out, err
}

func (f OrderFilter) apply(tx *gorm.DB) (*gorm.DB, error) {
	query := tx.Model(&orderRow{})
	if f.Dealer != "" {
		query = query.Where("dealer = ?", f.Dealer)
	}
	if f.Product != "" {
		query = query.Where("EXISTS (SELECT 1 FROM lines WHERE order_id = orders.id AND product = ?)", f.Product)
	}
	if f.Text != "" {
		query = query.Where(`(orders.id LIKE @text ESCAPE '\' OR reference LIKE @text ESCAPE '\' OR dealer LIKE @text ESCAPE '\'
			OR EXISTS (SELECT 1 FROM dealers WHERE dealers.id = orders.dealer AND name LIKE @text ESCAPE '\')
			OR EXISTS (SELECT 1 FROM lines WHERE order_id = orders.id AND product LIKE @text ESCAPE '\'))`,
			map[string]any{"text": containing(f.Text)})
	}
	if f.Open {
		query = query.Where("EXISTS (SELECT 1 FROM lines WHERE order_id = orders.id AND " + openLine + ")")
	}
	if f.After != "" {
		last, err := takeOrder(tx, f.After)
		if err != nil {
			return nil, err
		}
		query = query.Where("orders.seq < ?", last.Seq)
	}
	return query, nil
}

func wholeOrder(tx *gorm.DB, r orderRow) (Order, error) {
	all, err := wholeOrders(tx, []orderRow{r})
	if err != nil {
		return Order{}, err
	}
	return all[0], nil
}

// wholeOrders gives orders their lines.
func wholeOrders(tx *gorm.DB, rows []orderRow) ([]Order, error) {
	var ids []string
	for _, r := range rows {
		ids = append(ids, r.ID)
	}
	var all []lineRow
	if err := withDealers(tx).Where("lines.order_id IN ?", ids).Order("lines.seq").Find(&all).Error; err != nil {
		return nil, err
	}
	lines := map[string][]Line{}
	for _, l := range all {
		lines[*l.OrderID] = append(lines[*l.OrderID], l.line())
	}
	out := make([]Order, len(rows))
	for i, r := range rows {
		out[i] = r.order(lines[r.ID])
	}
	return out, nil
}
