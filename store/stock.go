package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// Why stock moves. The first five are written by what they are about; the
// others are for a person to state.
const (
	StockOpening  = "opening"  // what a shop file says that there is
	StockTrimmed  = "trimmed"  // a set is complete
	StockShipped  = "shipped"  // on a line
	StockUnsent   = "not sent" // a shipment was taken back
	StockUnmade   = "unmade"   // a report of trimmed pieces was corrected
	StockCounted  = "counted"  // a count found more, or less
	StockScrapped = "scrapped" // no longer good
	StockReturned = "returned" // came back good
)

// A StockMove is some sets of a product that came onto the shelf, or, below 0,
// went from it. Ref names what it is about, as the id of a shipment.
type StockMove struct {
	ID      int64     `json:"id"`
	At      time.Time `json:"at"`
	Actor   string    `json:"actor"`
	Product string    `json:"product"`
	Sets    int       `json:"sets"`
	Why     string    `json:"why"`
	Ref     string    `json:"ref"`
	Note    string    `json:"note"`
}

type stockRow struct {
	ID      int64 `gorm:"primaryKey"`
	At      int64
	Actor   string
	Product string
	Sets    int
	Why     string
	Ref     string
	Note    string
}

func (stockRow) TableName() string { return "stock_moves" }

func (r stockRow) move() StockMove {
	return StockMove{r.ID, instant(r.At), r.Actor, r.Product, r.Sets, r.Why, r.Ref, r.Note}
}

// moveStock writes a move, unless it would leave less than nothing, and has
// the product's level follow.
func moveStock(tx *gorm.DB, product string, sets int, why, ref, note string) (StockMove, error) {
	if sets == 0 {
		return StockMove{}, nil
	}
	hand, err := onHand(tx, product)
	if err != nil {
		return StockMove{}, err
	}
	switch {
	case hand+sets < 0:
		return StockMove{}, conflict("there are %d of product %q in stock, not %d", hand, product, -sets)
	case hand+sets > strict.Most:
		return StockMove{}, conflict("%d more of product %q are more than books can count, which is %d", sets, product, strict.Most)
	}
	row := stockRow{
		At: millis(tx), Actor: actor(tx.Statement.Context), Product: product, Sets: sets, Why: why, Ref: ref, Note: note,
	}
	if err := tx.Create(&row).Error; err != nil {
		return StockMove{}, err
	}
	if err := trail(tx, "stock", product, why, hand, hand+sets); err != nil {
		return StockMove{}, err
	}
	return row.move(), restock(tx, product)
}

// onHand counts a product's sets on the shelf.
func onHand(tx *gorm.DB, product string) (sets int, err error) {
	return sets, tx.Model(&stockRow{}).Where("product = ?", product).Select("coalesce(sum(sets), 0)").Scan(&sets).Error
}

// MoveStock states that sets were counted, scrapped or returned. Counted is
// the difference to what the books have.
func (b *Books) MoveStock(ctx context.Context, product string, sets int, why, note string) (StockMove, error) {
	asked := StockMove{Product: product, Sets: sets, Why: why, Note: note}
	return once(ctx, b, "move stock", asked, func(tx *gorm.DB) (StockMove, error) {
		known, err := productsOf(tx)
		if err != nil {
			return StockMove{}, err
		}
		var p findings
		p.product("product", product, known)
		p.oneOf("why", why, StockCounted, StockScrapped, StockReturned)
		p.text("note", note, noteLength)
		switch {
		case sets == 0:
			p.say("sets", "is 0: nothing moves")
		case why == StockScrapped && sets > 0:
			p.say("sets", "is %d, but what is scrapped is below 0", sets)
		case why == StockReturned && sets < 0:
			p.say("sets", "is %d, but what is returned is above 0", sets)
		}
		p.count("sets", max(sets, -sets), 0)
		if err := p.err(); err != nil {
			return StockMove{}, err
		}
		return moveStock(tx, product, sets, why, "", note)
	})
}

// A StockFilter asks for some moves. What is empty or zero asks for any.
type StockFilter struct {
	Product, Why string
	Before       int64 // moves with a smaller ID: the next page
	Limit        int   // 0 is MaxPage
}

// StockMoves returns moves, the newest first.
func (b *Books) StockMoves(ctx context.Context, f StockFilter) ([]StockMove, error) {
	var rows []stockRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		if f.Product != "" {
			tx = tx.Where("product = ?", f.Product)
		}
		if f.Why != "" {
			tx = tx.Where("why = ?", f.Why)
		}
		if f.Before > 0 {
			tx = tx.Where("id < ?", f.Before)
		}
		return tx.Order("id DESC").Limit(page(f.Limit)).Find(&rows).Error
	})
	out := make([]StockMove, len(rows))
	for i, r := range rows {
		out[i] = r.move()
	}
	return out, doing(err, "stock moves")
}

// A Holding is what there is of a product, and what is asked of it.
type Holding struct {
	Product string `json:"product"`
	OnHand  int    `json:"on_hand"`
	Wanted  int    `json:"wanted"` // by open lines, but for what the level itself asks
	Level   int    `json:"level"`
	Kept    int    `json:"kept"`  // of OnHand, kept back for the level and left out of plans
	Short   int    `json:"short"` // of Level: it is demand for restock
}

// Stock returns the holding of every product, in the shop's order.
func (b *Books) Stock(ctx context.Context) ([]Holding, error) {
	var out []Holding
	err := b.read(ctx, func(tx *gorm.DB) error {
		ids, err := productOrder(tx)
		if err != nil {
			return err
		}
		h, err := holdings(tx)
		for _, id := range ids {
			out = append(out, h.of(id))
		}
		return err
	})
	return out, doing(err, "stock")
}

// hold holds the sums of which holdings are made, by product.
type hold struct{ hand, wanted, level map[string]int }

// of weighs a product's sums. Open lines come first, then the level.
func (h hold) of(product string) Holding {
	out := Holding{Product: product, OnHand: h.hand[product], Wanted: h.wanted[product], Level: h.level[product]}
	out.Kept = min(out.Level, max(0, out.OnHand-out.Wanted))
	out.Short = out.Level - out.Kept
	return out
}

// holdings sums up all products, or those that are named.
func holdings(tx *gorm.DB, products ...string) (hold, error) {
	var h hold
	var err error
	some := func(query *gorm.DB) *gorm.DB {
		if len(products) > 0 {
			query = query.Where("product IN ?", products)
		}
		return query
	}
	if h.hand, err = sums(some(tx.Model(&stockRow{})).Select("product, sum(sets) AS sets").Group("product")); err != nil {
		return h, err
	}
	open := some(tx.Model(&lineRow{})).Where(openLine).Where("NOT level")
	if h.wanted, err = sums(open.Select("product, sum(quantity - shipped - cancelled) AS sets").Group("product")); err != nil {
		return h, err
	}
	h.level, err = sums(some(tx.Model(&levelRow{})).Select("product, sets"))
	return h, err
}

// sums reads rows of a product and its sets.
func sums(query *gorm.DB) (map[string]int, error) {
	var rows []struct {
		Product string
		Sets    int
	}
	err := query.Scan(&rows).Error
	out := map[string]int{}
	for _, r := range rows {
		out[r.Product] = r.Sets
	}
	return out, err
}

// loadStock gives products the stock that a plan may use.
func loadStock(tx *gorm.DB, s *shop.Shop) error {
	h, err := holdings(tx)
	for i := range s.Products {
		of := h.of(s.Products[i].ID)
		s.Products[i].Stock = of.OnHand - of.Kept
	}
	return err
}

// saveStock opens the books with what a file says that there is.
func saveStock(tx *gorm.DB, s *shop.Shop) error {
	for _, p := range s.Products {
		if _, err := moveStock(tx, p.ID, p.Stock, StockOpening, "", ""); err != nil {
			return err
		}
	}
	return nil
}
