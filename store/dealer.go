package store

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// DealerTerms are what is agreed with a dealer. Weight and Complete are what
// an order's lines get that say nothing else.
type DealerTerms struct {
	Name     string  `json:"name"`
	Weight   float64 `json:"weight"`
	Complete bool    `json:"complete"`
	Note     string  `json:"note"`
}

// A Dealer orders blanks.
type Dealer struct {
	ID  string `json:"id"`
	Rev int64  `json:"rev"`
	DealerTerms
}

type dealerRow struct {
	ID       string `gorm:"primaryKey"`
	Name     string
	Weight   float64
	Complete bool
	Note     string
	Rev      int64
}

func (dealerRow) TableName() string { return "dealers" }

func (r dealerRow) dealer() Dealer {
	return Dealer{r.ID, r.Rev, DealerTerms{r.Name, r.Weight, r.Complete, r.Note}}
}

// Dealers returns all dealers, by id.
func (b *Books) Dealers(ctx context.Context) ([]Dealer, error) {
	var rows []dealerRow
	err := b.read(ctx, func(tx *gorm.DB) error { return tx.Order("id").Find(&rows).Error })
	out := make([]Dealer, len(rows))
	for i, r := range rows {
		out[i] = r.dealer()
	}
	return out, doing(err, "dealers")
}

// Dealer returns one dealer.
func (b *Books) Dealer(ctx context.Context, id string) (Dealer, error) {
	var r dealerRow
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		r, err = takeDealer(tx, id)
		return err
	})
	return r.dealer(), err
}

func takeDealer(tx *gorm.DB, id string) (dealerRow, error) {
	var r dealerRow
	err := tx.Where("id = ?", id).Take(&r).Error
	if missing(err) {
		err = notFound("dealer", id)
	}
	return r, err
}

// PutDealer makes a dealer, or changes the one with that id.
func (b *Books) PutDealer(ctx context.Context, id string, terms DealerTerms, rev int64) (Dealer, error) {
	var p findings
	p.id("id", id)
	p.needed("name", terms.Name)
	p.text("name", terms.Name, lineLength)
	p.amount("weight", terms.Weight)
	p.text("note", terms.Note, noteLength)
	if err := p.err(); err != nil {
		return Dealer{}, err
	}
	return once(ctx, b, fmt.Sprintf("put dealer %q", id), putting{terms, rev}, func(tx *gorm.DB) (Dealer, error) {
		return putDealer(tx, id, terms, rev)
	})
}

func putDealer(tx *gorm.DB, id string, terms DealerTerms, rev int64) (Dealer, error) {
	before, err := takeDealer(tx, id)
	have, err := revisionOf("dealer", id, before.Rev, rev, err)
	if err != nil {
		return Dealer{}, err
	}
	after := Dealer{ID: id, Rev: have + 1, DealerTerms: terms}
	if have > 0 && before.dealer().DealerTerms == terms {
		return before.dealer(), nil
	}
	row := dealerRow{id, terms.Name, terms.Weight, terms.Complete, terms.Note, after.Rev}
	if err := tx.Save(&row).Error; err != nil {
		return Dealer{}, err
	}
	if have == 0 {
		return after, trail(tx, "dealer", id, "made", nil, after)
	}
	return after, trail(tx, "dealer", id, "changed", before.dealer(), after)
}

// RemoveDealer removes a dealer who has no orders.
func (b *Books) RemoveDealer(ctx context.Context, id string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		r, err := takeDealer(tx, id)
		if err == nil {
			err = checkRev("dealer", id, rev, r.Rev)
		}
		if err != nil {
			return err
		}
		var orders int64
		if err := tx.Model(&orderRow{}).Where("dealer = ?", id).Count(&orders).Error; err != nil {
			return err
		}
		if orders > 0 {
			return conflict("dealer %q has %d orders, and stays in the books with them", id, orders)
		}
		if err := tx.Delete(&r).Error; err != nil {
			return err
		}
		return trail(tx, "dealer", id, "removed", r.dealer(), nil)
	}), "remove dealer %q", id)
}

// revisionOf tells the revision that a put finds, 0 for a new record, and
// refuses a caller who expected another. err is what looking for it said.
func revisionOf(kind, id string, have, rev int64, err error) (int64, error) {
	switch found := err == nil; {
	case found && rev == MustBeNew:
		return have, conflict("there is a %s %q already", kind, id)
	case found:
		return have, checkRev(kind, id, rev, have)
	case isNotFound(err) && rev <= 0:
		return 0, nil
	}
	return 0, err
}
