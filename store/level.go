package store

import (
	"context"
	"errors"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// LevelTerms say how many sets of a product should lie on the shelf when all
// other lines are served. What is missing is demand by itself: due so many
// Days after it came to be missing, with a weight.
type LevelTerms struct {
	Sets   int     `json:"sets"`
	Days   int     `json:"days"`
	Weight float64 `json:"weight"`
}

// A Level is a product's.
type Level struct {
	Product string `json:"product"`
	Rev     int64  `json:"rev"`
	LevelTerms
}

type levelRow struct {
	Product string `gorm:"primaryKey"`
	Sets    int
	Days    int
	Weight  float64
	Rev     int64
}

func (levelRow) TableName() string { return "levels" }

func (r levelRow) level() Level {
	return Level{r.Product, r.Rev, LevelTerms{r.Sets, r.Days, r.Weight}}
}

// Levels returns all stock levels, by product.
func (b *Books) Levels(ctx context.Context) ([]Level, error) {
	var rows []levelRow
	err := b.read(ctx, func(tx *gorm.DB) error { return tx.Order("product").Find(&rows).Error })
	out := make([]Level, len(rows))
	for i, r := range rows {
		out[i] = r.level()
	}
	return out, doing(err, "levels")
}

// Level returns a product's stock level.
func (b *Books) Level(ctx context.Context, product string) (Level, error) {
	var r levelRow
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		r, err = takeLevel(tx, product)
		return err
	})
	return r.level(), err
}

func takeLevel(tx *gorm.DB, product string) (levelRow, error) {
	var r levelRow
	err := tx.Where("product = ?", product).Take(&r).Error
	if missing(err) {
		err = notFound("stock level of product", product)
	}
	return r, err
}

// PutLevel sets a product's stock level.
func (b *Books) PutLevel(ctx context.Context, product string, terms LevelTerms, rev int64) (Level, error) {
	return once(ctx, b, fmt.Sprintf("put level of %q", product), putting{terms, rev}, func(tx *gorm.DB) (Level, error) {
		return putLevel(tx, product, terms, rev)
	})
}

func putLevel(tx *gorm.DB, product string, terms LevelTerms, rev int64) (Level, error) {
	known, err := productsOf(tx)
	if err != nil {
		return Level{}, err
	}
	var p findings
	p.product("product", product, known)
	p.count("sets", terms.Sets, 0)
	p.count("days", terms.Days, 0)
	if terms.Days > maxDays {
		p.say("days", "is %d, but must be at most %d", terms.Days, maxDays)
	}
	p.amount("weight", terms.Weight)
	if err := p.err(); err != nil {
		return Level{}, err
	}
	before, err := takeLevel(tx, product)
	have, err := revisionOf("stock level of product", product, before.Rev, rev, err)
	if err != nil {
		return Level{}, err
	}
	if have > 0 && before.level().LevelTerms == terms {
		return before.level(), nil
	}
	row := levelRow{product, terms.Sets, terms.Days, terms.Weight, have + 1}
	var from any
	if have > 0 {
		from = before.level()
	}
	if err := tx.Save(&row).Error; err != nil {
		return Level{}, err
	}
	if err := trail(tx, "level", product, "set", from, row.level()); err != nil {
		return Level{}, err
	}
	if err := reterm(tx, before, row); err != nil {
		return Level{}, err
	}
	return row.level(), restock(tx, product)
}

// reterm has what a level asks for already follow the level's new terms.
func reterm(tx *gorm.DB, before, after levelRow) error {
	line, err := levelLine(tx, after.Product)
	if missing(err) {
		return nil
	}
	if err != nil {
		return err
	}
	was := line.line()
	line.Weight = after.Weight
	line.Due = (was.Due + shop.Date(after.Days-before.Days)).String()
	_, err = saveLine(tx, "changed", was, line)
	return err
}

// levelLine is the line of what is short of a product's level.
func levelLine(tx *gorm.DB, product string) (line lineRow, err error) {
	return line, tx.Where("level AND product = ?", product).Take(&line).Error
}

// maxDays is as far ahead as a shop file counts.
const maxDays = 36525

// RemoveLevel takes a product's stock level away, and what it asked for.
func (b *Books) RemoveLevel(ctx context.Context, product string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		r, err := takeLevel(tx, product)
		if err == nil {
			err = checkRev("stock level of product", product, rev, r.Rev)
		}
		if err != nil {
			return err
		}
		if err := tx.Delete(&r).Error; err != nil {
			return err
		}
		if err := trail(tx, "level", product, "removed", r.level(), nil); err != nil {
			return err
		}
		return restock(tx, product)
	}), "remove level of %q", product)
}

// restock has products' restock demand follow from their stock, their open
// lines and their levels. Whoever changes one of these calls it in the same
// transaction.
func restock(tx *gorm.DB, products ...string) error {
	if len(products) == 0 {
		return nil
	}
	h, err := holdings(tx, products...)
	if err != nil {
		return err
	}
	for _, product := range products {
		if err := restockOne(tx, product, h.of(product).Short); err != nil {
			return err
		}
	}
	return nil
}

func restockOne(tx *gorm.DB, product string, short int) error {
	line, err := levelLine(tx, product)
	if err != nil && !missing(err) {
		return err
	}
	switch known := err == nil; {
	case !known && short == 0, known && line.Quantity == short:
		return nil
	case !known:
		return askRestock(tx, product, short)
	case short == 0:
		return errors.Join(tx.Delete(&line).Error, trail(tx, "line", line.ID, "restocked", line.line(), nil))
	}
	before := line.line()
	line.Quantity = short
	_, err = saveLine(tx, "changed", before, line)
	return err
}

// askRestock makes the line of what is short of a level.
func askRestock(tx *gorm.DB, product string, short int) error {
	level, err := takeLevel(tx, product)
	if err != nil {
		return err
	}
	today, err := today(tx)
	if err != nil {
		return err
	}
	id, err := freeID(tx, &lineRow{}, "RESTOCK/"+product, func(n int) string {
		return fmt.Sprintf("RESTOCK/%s/%d", product, n)
	})
	if err != nil {
		return err
	}
	line := lineRow{
		ID: id, Kind: shop.KindRestock, Level: true, Product: product, Quantity: short,
		Due: (today + shop.Date(level.Days)).String(), Weight: level.Weight, Rev: 1,
	}
	return errors.Join(tx.Create(&line).Error, trail(tx, "line", id, "entered", nil, line.line()))
}

// today is the date in the shop at a transaction's moment.
func today(tx *gorm.DB) (shop.Date, error) {
	r, err := takeThing(tx, "settings", "settings")
	if isNotFound(err) {
		return 0, errEmpty
	}
	if err != nil {
		return 0, err
	}
	said, err := decode[Settings]([]byte(r.Body))
	if err != nil {
		return 0, err
	}
	at, err := asOf(tx, (&shop.Shop{Timezone: said.Timezone}).Zone())
	return shop.DateOf(at.Time()), err
}

// freeID returns an id that no row has: the first, or one of those that follow,
// from the second on.
func freeID(tx *gorm.DB, model any, first string, nth func(n int) string) (string, error) {
	for id, n := first, 2; ; id, n = nth(n), n+1 {
		var taken int64
		if err := tx.Model(model).Where("id = ?", id).Count(&taken).Error; err != nil {
			return "", err
		}
		if taken == 0 {
			return id, nil
		}
	}
}

// nextID returns an id of a row in a table that numbers them, which is the
// number with a letter before it.
func nextID(tx *gorm.DB, model any, letter string) (string, error) {
	var last int
	if err := tx.Model(model).Select("coalesce(max(seq), 0)").Scan(&last).Error; err != nil {
		return "", err
	}
	numbered := func(n int) string { return fmt.Sprintf("%s-%05d", letter, last+n) }
	return freeID(tx, model, numbered(1), numbered)
}
