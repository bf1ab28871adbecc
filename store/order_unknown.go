package store

import (
	"context"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
)

// UnknownIn tells of a new order what it names that the books do not have, and
// of its id where there is such an order already. What is empty is passed over:
// it is for those who ask about an order that is not well formed, too.
func (b *Books) UnknownIn(ctx context.Context, asked NewOrder) (strict.Problems, error) {
	var p findings
	err := b.read(ctx, func(tx *gorm.DB) error {
		known, err := productsOf(tx)
		if err != nil {
			return err
		}
		for i, l := range asked.Lines {
			if l.Product != "" {
				p.product(fmt.Sprintf("lines[%d].product", i), l.Product, known)
			}
		}
		if asked.Dealer != "" {
			if err := p.dealer(tx, "dealer", asked.Dealer); err != nil {
				return err
			}
		}
		taken, err := exists(tx, "orders", "id = ? AND id <> ''", asked.ID)
		if taken {
			p.say("id", "there is an order %q already", asked.ID)
		}
		return err
	})
	return p.problems, doing(err, "what is unknown in an order")
}

// dealer judges a reference to a dealer.
func (p *findings) dealer(tx *gorm.DB, path, id string) error {
	_, err := takeDealer(tx, id)
	if isNotFound(err) {
		p.say(path, "there is no dealer %q", id)
		return nil
	}
	return err
}
