package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// claimDays is how soon a claim is due whose date nobody states.
const claimDays = 14

// A NewClaim is a blank that came back within its warranty. It is replaced by
// the line that it makes, which ships from stock as any other.
type NewClaim struct {
	Product string     `json:"product"`
	Sold    shop.Date  `json:"sold"`
	Failed  shop.Date  `json:"failed"`
	Reason  string     `json:"reason"`
	Note    string     `json:"note"`
	Due     *shop.Date `json:"due"`    // of the replacement; nil: in two weeks
	Weight  *float64   `json:"weight"` // nil: 1
}

// A Claim is one that was entered.
type Claim struct {
	ID      string    `json:"id"`
	Product string    `json:"product"`
	Sold    shop.Date `json:"sold"`
	Failed  shop.Date `json:"failed"`
	Reason  string    `json:"reason"`
	Note    string    `json:"note"`
	Entered time.Time `json:"entered"`
	Line    string    `json:"line"` // that replaces it
}

type claimRow struct {
	Seq     int64 `gorm:"primaryKey"`
	ID      string
	Product string
	Sold    string
	Failed  string
	Reason  string
	Note    string
	Entered int64
}

func (claimRow) TableName() string { return "claims" }

func (r claimRow) claim(line string) Claim {
	return Claim{r.ID, r.Product, dateOf(r.Sold), dateOf(r.Failed), r.Reason, r.Note, instant(r.Entered), line}
}

// EnterClaim enters a warranty claim, and its replacement as demand.
func (b *Books) EnterClaim(ctx context.Context, asked NewClaim) (Claim, error) {
	return once(ctx, b, "enter a claim", asked, func(tx *gorm.DB) (Claim, error) {
		day, err := today(tx)
		if err != nil {
			return Claim{}, err
		}
		if err := judgeClaim(tx, asked, day); err != nil {
			return Claim{}, err
		}
		row := claimRow{
			Product: asked.Product, Sold: asked.Sold.String(), Failed: asked.Failed.String(),
			Reason: asked.Reason, Note: asked.Note, Entered: millis(tx),
		}
		if row.ID, err = nextID(tx, &claimRow{}, "C"); err != nil {
			return Claim{}, err
		}
		if err := tx.Create(&row).Error; err != nil {
			return Claim{}, err
		}
		line := lineRow{Kind: shop.KindRestock, Claim: &row.ID, Weight: 1, Rev: 1}
		line.set(asked.replacement(day))
		line.ID, err = freeID(tx, &lineRow{}, row.ID, func(n int) string { return fmt.Sprintf("%s/%d", row.ID, n) })
		if err != nil {
			return Claim{}, err
		}
		claim := row.claim(line.ID)
		return claim, errors.Join(
			trail(tx, "claim", row.ID, "entered", nil, claim), enterLine(tx, &line), restock(tx, asked.Product))
	})
}

// replacement is the line that replaces what failed.
func (c NewClaim) replacement(today shop.Date) LineTerms {
	terms := LineTerms{Product: c.Product, Quantity: 1, Due: today + claimDays, Weight: c.Weight}
	if c.Due != nil {
		terms.Due = *c.Due
	}
	return terms
}

func judgeClaim(tx *gorm.DB, asked NewClaim, today shop.Date) error {
	known, err := productsOf(tx)
	if err != nil {
		return err
	}
	var p findings
	p.line("", asked.replacement(today), known)
	p.date("sold", asked.Sold)
	p.date("failed", asked.Failed)
	switch {
	case asked.Failed == 0 || asked.Sold == 0:
	case asked.Failed < asked.Sold:
		p.say("failed", "%s is before %s, when it was sold", asked.Failed, asked.Sold)
	case asked.Failed > today:
		p.say("failed", "%s is after today, %s", asked.Failed, today)
	}
	p.needed("reason", asked.Reason)
	p.text("reason", asked.Reason, lineLength)
	p.text("note", asked.Note, noteLength)
	return p.err()
}

// A ClaimFilter asks for some claims. What is empty or zero asks for any.
type ClaimFilter struct {
	Product string
	After   string // the last claim of the page before
	Limit   int    // 0 is MaxPage
}

// Claims returns claims, the newest first.
func (b *Books) Claims(ctx context.Context, f ClaimFilter) ([]Claim, error) {
	var out []Claim
	err := b.read(ctx, func(tx *gorm.DB) error {
		query := tx.Model(&claimRow{})
		if f.Product != "" {
			query = query.Where("product = ?", f.Product)
		}
		if f.After != "" {
			last, err := takeClaim(tx, f.After)
			if err != nil {
				return err
			}
			query = query.Where("seq < ?", last.Seq)
		}
		var rows []claimRow
		if err := query.Order("seq DESC").Limit(page(f.Limit)).Find(&rows).Error; err != nil {
			return err
		}
		var err error
		out, err = withLines(tx, rows)
		return err
	})
	return out, doing(err, "claims")
}

// Claim returns one claim.
func (b *Books) Claim(ctx context.Context, id string) (Claim, error) {
	var out []Claim
	err := b.read(ctx, func(tx *gorm.DB) error {
		r, err := takeClaim(tx, id)
		if err != nil {
			return err
		}
		out, err = withLines(tx, []claimRow{r})
		return err
	})
	if err != nil {
		return Claim{}, err
	}
	return out[0], nil
}

func takeClaim(tx *gorm.DB, id string) (claimRow, error) {
	var r claimRow
	err := tx.Where("id = ?", id).Take(&r).Error
	if missing(err) {
		err = notFound("claim", id)
	}
	return r, err
}

// withLines tells claims with the lines that replace them.
func withLines(tx *gorm.DB, rows []claimRow) ([]Claim, error) {
	var ids []string
	for _, r := range rows {
		ids = append(ids, r.ID)
	}
	var lines []lineRow
	if err := tx.Where("claim IN ?", ids).Find(&lines).Error; err != nil {
		return nil, err
	}
	of := map[string]string{}
	for _, l := range lines {
		of[*l.Claim] = l.ID
	}
	out := make([]Claim, len(rows))
	for i, r := range rows {
		out[i] = r.claim(of[r.ID])
	}
	return out, nil
}
