package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A Thing is one of those that the shop consists of, in the form in which a
// shop file states it.
type Thing struct {
	Kind string
	ID   string
	Rev  int64
	Body json.RawMessage
}

// MustBeNew in the place of a revision asks that there be no such record yet.
const MustBeNew int64 = -1

type thingRow struct {
	Kind     string `gorm:"primaryKey"`
	ID       string `gorm:"primaryKey"`
	Position int64
	Rev      int64
	Body     string
}

func (thingRow) TableName() string { return "things" }

func (r thingRow) thing() Thing {
	return Thing{Kind: r.Kind, ID: r.ID, Rev: r.Rev, Body: json.RawMessage(r.Body)}
}

// loadThings adds all things to a shop.
func loadThings(tx *gorm.DB, s *shop.Shop) error {
	var all []thingRow // at once: this is read for every plan and every change
	if err := tx.Order("position").Find(&all).Error; err != nil {
		return err
	}
	ids, bodies := map[string][]string{}, map[string][]string{}
	for _, r := range all {
		ids[r.Kind] = append(ids[r.Kind], r.ID)
		bodies[r.Kind] = append(bodies[r.Kind], r.Body)
	}
	for _, k := range kinds() {
		if of := bodies[k.name]; len(of) > 0 {
			if err := k.fill(s, ids[k.name], of); err != nil {
				return fmt.Errorf("kind %s: %w", k.name, err)
			}
		}
	}
	return nil
}

// saveThings writes all things of a shop.
func saveThings(tx *gorm.DB, s *shop.Shop) error {
	var rows []thingRow
	for _, k := range kinds() {
		for i, r := range k.rows(s) {
			body := string(strict.Encode(r.value))
			rows = append(rows, thingRow{Kind: k.name, ID: r.id, Position: int64(i + 1), Rev: 1, Body: body})
		}
	}
	return tx.CreateInBatches(rows, 200).Error
}

// thingRows returns the things of a kind, in their order.
func thingRows(tx *gorm.DB, k kind) ([]thingRow, error) {
	var rows []thingRow
	err := tx.Where("kind = ?", k.name).Order("position").Find(&rows).Error
	return rows, err
}

// Things returns all things of a kind, in the order of the shop file.
func (b *Books) Things(ctx context.Context, kind string) ([]Thing, error) {
	k, err := kindNamed(kind)
	if err != nil {
		return nil, err
	}
	var rows []thingRow
	err = b.read(ctx, func(tx *gorm.DB) (err error) {
		rows, err = thingRows(tx, k)
		return err
	})
	out := make([]Thing, len(rows))
	for i, r := range rows {
		out[i] = r.thing()
	}
	return out, doing(err, "%ss", kind)
}

// Thing returns one thing.
func (b *Books) Thing(ctx context.Context, kind, id string) (Thing, error) {
	if _, err := kindNamed(kind); err != nil {
		return Thing{}, err
	}
	var r thingRow
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		r, err = takeThing(tx, kind, id)
		return err
	})
	return r.thing(), err
}

func takeThing(tx *gorm.DB, kind, id string) (thingRow, error) {
	var r thingRow
	err := tx.Where("kind = ? AND id = ?", kind, id).Take(&r).Error
	if missing(err) {
		err = notFound(kind, id)
	}
	return r, err
}

// Catalog returns the shop without what changes from hour to hour: no demand,
// no stock, no released work. Its now is the transaction's.
func (b *Books) Catalog(ctx context.Context) (*shop.Shop, error) {
	var s *shop.Shop
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		s, err = catalog(tx)
		return err
	})
	return s, doing(err, "catalog")
}

// PutThing makes a thing, or changes the one with that kind and id. body is
// what a shop file would state. It is refused, with all problems, unless the
// whole shop is valid with it: problems of the thing are named from the thing,
// those that it makes elsewhere from the shop file, after "shop.".
func (b *Books) PutThing(ctx context.Context, kind, id string, body []byte, rev int64) (Thing, error) {
	k, err := kindNamed(kind)
	if err != nil {
		return Thing{}, err
	}
	return once(ctx, b, fmt.Sprintf("put %s %q", kind, id), putting{string(body), rev}, func(tx *gorm.DB) (Thing, error) {
		put, err := putThing(tx, k, id, body, rev)
		return put.thing(), err
	})
}

func putThing(tx *gorm.DB, k kind, id string, body []byte, rev int64) (thingRow, error) {
	rows, err := thingRows(tx, k)
	if err != nil {
		return thingRow{}, err
	}
	at := place(rows, id)
	before, err := standing(k, rows, at, id, rev)
	if err != nil {
		return before, err
	}
	if before.Rev == 0 {
		var p findings
		if p.id("id", id); p.err() != nil {
			return before, p.err()
		}
	}
	text, err := judge(tx, k, at, id, body)
	if err != nil || text == before.Body {
		return before, err
	}
	after := before
	after.Rev, after.Body = before.Rev+1, text
	what := "changed"
	if before.Rev == 0 {
		what = "made"
	}
	return after, errors.Join(
		tx.Save(&after).Error,
		trail(tx, k.name, id, what, bodyOf(before), bodyOf(after)),
	)
}

// place returns where a thing stands among those of its kind, or would stand.
func place(rows []thingRow, id string) int {
	for i, r := range rows {
		if r.ID == id {
			return i
		}
	}
	return len(rows)
}

// standing returns the row that a put changes, or a new one.
func standing(k kind, rows []thingRow, at int, id string, rev int64) (thingRow, error) {
	switch exists := at < len(rows); {
	case exists && rev == MustBeNew:
		return rows[at], conflict("there is a %s %q already", k.name, id)
	case exists:
		return rows[at], checkRev(k.name, id, rev, rows[at].Rev)
	case rev > 0 || k.shape > table:
		return thingRow{}, notFound(k.name, id)
	}
	last := int64(0)
	if at > 0 {
		last = rows[at-1].Position
	}
	return thingRow{Kind: k.name, ID: id, Position: last + 1}, nil
}

// judge returns the canonical text of a thing, if the shop with it is valid.
func judge(tx *gorm.DB, k kind, at int, id string, body []byte) (string, error) {
	if !json.Valid(body) || !utf8.Valid(body) {
		return "", strict.Read(body, new(struct{})).Err() // says where
	}
	whole, err := assemble(tx)
	if err != nil {
		return "", err
	}
	d, err := draftOf(whole)
	if err != nil {
		return "", err
	}
	own, err := d.put(k, at, id, body)
	if err != nil {
		return "", err
	}
	s, err := d.read(own)
	if err := withOwn(err, k, id, body); err != nil {
		return "", err
	}
	return string(strict.Encode(k.rows(s)[rowAt(k, s, at, id)].value)), nil
}

// rowAt returns where a thing is among a shop's rows of its kind.
func rowAt(k kind, s *shop.Shop, at int, id string) int {
	if k.shape == list {
		return at
	}
	for i, r := range k.rows(s) {
		if r.id == id {
			return i
		}
	}
	return 0
}

// withOwn adds to the problems of a thing what only the books ask of it: that
// its id is the one it is put under, and that it states no stock.
func withOwn(err error, k kind, id string, body []byte) error {
	var found strict.Problems
	if err != nil && !errors.As(err, &found) {
		return err
	}
	var said map[string]any
	if json.Unmarshal(body, &said) != nil { // no object: that is among the problems
		return err
	}
	if own, ok := said["id"].(string); ok && own != id && own != "" {
		found = append(found, strict.Problem{Path: "id", Message: fmt.Sprintf("is %q, not %q, under which it is put", own, id)})
	}
	if k.name == "product" && said["stock"] != nil {
		found = append(found, strict.Problem{Path: "stock", Message: "is not stated here: stock is what its moves sum up to"})
	}
	if len(found) == 0 {
		return nil
	}
	return found
}

// RemoveThing removes a thing, if the shop without it is valid.
func (b *Books) RemoveThing(ctx context.Context, kind, id string, rev int64) error {
	k, err := kindNamed(kind)
	if err != nil {
		return err
	}
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		rows, err := thingRows(tx, k)
		if err != nil {
			return err
		}
		at := place(rows, id)
		if at == len(rows) {
			return notFound(kind, id)
		}
		if err := removable(tx, k, rows[at], at, rev); err != nil {
			return err
		}
		return errors.Join(
			tx.Delete(&rows[at]).Error,
			trail(tx, kind, id, "removed", bodyOf(rows[at]), nil),
		)
	}), "remove %s %q", kind, id)
}

func removable(tx *gorm.DB, k kind, r thingRow, at int, rev int64) error {
	if err := checkRev(k.name, r.ID, rev, r.Rev); err != nil {
		return err
	}
	if k.shape > table {
		return conflict("every shop has its %s %q: it can be changed, not removed", k.name, r.ID)
	}
	if err := unstocked(tx, k, r.ID); err != nil {
		return err
	}
	whole, err := assemble(tx)
	if err != nil {
		return err
	}
	d, err := draftOf(whole)
	if err != nil {
		return err
	}
	if err := d.remove(k, at, r.ID); err != nil {
		return err
	}
	_, err = d.read(k.field + " ") // a path that nothing has: the thing is gone
	return err
}

// unstocked refuses a product that lies in stock or should, or is asked for by a
// line that is held back.
func unstocked(tx *gorm.DB, k kind, id string) error {
	if k.name != "product" {
		return nil
	}
	h, err := holdings(tx, id)
	_, levelled := h.level[id]
	switch {
	case err != nil:
		return err
	case h.hand[id] != 0:
		return conflict("product %q has %d in stock: count or scrap them first", id, h.hand[id])
	case levelled:
		return conflict("product %q has a stock level: remove that first", id)
	}
	return unheld(tx, id)
}

// bodyOf is a thing as the trail has it, nil for none.
func bodyOf(r thingRow) any {
	if r.Rev == 0 {
		return nil
	}
	return json.RawMessage(bytes.TrimSpace([]byte(r.Body)))
}
