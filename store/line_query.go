package store

import (
	"context"
	"strings"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A LineFilter asks for some lines. What is empty or zero asks for any.
type LineFilter struct {
	Order, Dealer, Product, Kind string
	Text                         string     // within the line's id, its order's id or reference, or the dealer's or product's id or name
	Open                         bool       // only those with something still to ship
	Held                         bool       // only those that are held back, and open
	DueUntil                     *shop.Date // due on that date or before
	After                        string     // the last line of the page before
	Limit                        int        // 0 is MaxPage
}

// Lines returns lines, the first due first.
func (b *Books) Lines(ctx context.Context, f LineFilter) ([]Line, error) {
	var rows []lineRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		query, err := f.apply(tx)
		if err != nil {
			return err
		}
		return query.Order("lines.due, lines.seq").Limit(page(f.Limit)).Find(&rows).Error
	})
	return linesOf(rows), doing(err, "lines")
}

func linesOf(rows []lineRow) []Line {
	out := make([]Line, len(rows))
	for i, r := range rows {
		out[i] = r.line()
	}
	return out
}

// Line returns one line.
func (b *Books) Line(ctx context.Context, id string) (Line, error) {
	var r lineRow
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		r, err = takeLine(tx, id)
		return err
	})
	if err != nil {
		return Line{}, err
	}
	return r.line(), nil
}

func (f LineFilter) apply(tx *gorm.DB) (*gorm.DB, error) {
	query := withDealers(tx)
	for column, value := range map[string]string{
		"lines.order_id": f.Order, "orders.dealer": f.Dealer, "lines.product": f.Product, "lines.kind": f.Kind,
	} {
		if value != "" {
			query = query.Where(column+" = ?", value)
		}
	}
	if f.Text != "" {
		query = query.Where(`(lines.id LIKE @text ESCAPE '\' OR lines.order_id LIKE @text ESCAPE '\' OR orders.reference LIKE @text ESCAPE '\'
			OR lines.product LIKE @text ESCAPE '\' OR orders.dealer LIKE @text ESCAPE '\'
			OR orders.dealer IN (SELECT id FROM dealers WHERE name LIKE @text ESCAPE '\')
			OR lines.product IN (SELECT id FROM things WHERE kind = 'product' AND json_extract(body, '$.name') LIKE @text ESCAPE '\'))`,
			map[string]any{"text": containing(f.Text)})
	}
	if f.Open {
		query = query.Where(openLine)
	}
	if f.Held {
		where, day, err := heldBack(tx)
		if err != nil {
			return nil, err
		}
		query = query.Where(openLine).Where(where, day)
	}
	if f.DueUntil != nil {
		query = query.Where("lines.due <= ?", f.DueUntil.String())
	}
	if f.After != "" {
		last, err := takeLine(tx, f.After)
		if err != nil {
			return nil, err
		}
		query = query.Where("(lines.due, lines.seq) > (?, ?)", last.Due, last.Seq)
	}
	return query, nil
}

// containing is the pattern of texts that hold a text.
func containing(text string) string {
	return "%" + strings.NewReplacer(`\`, `\\`, "%", `\%`, "_", `\_`).Replace(text) + "%"
}
