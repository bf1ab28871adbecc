package store

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// problems collect all that is wrong with what was stated, before anything is
// written.
type problems struct{ found strict.Problems }

func (p *problems) add(path, format string, args ...any) {
	p.found = append(p.found, strict.Problem{Path: path, Message: fmt.Sprintf(format, args...)})
}

// err is strict.Problems, or nil where nothing is wrong.
func (p *problems) err() error {
	if len(p.found) == 0 {
		return nil
	}
	return p.found
}

const (
	idLength   = 60 // letters of an id that the books give or take
	lineLength = 200
	noteLength = 4000
)

// id judges an id that is to be new.
func (p *problems) id(path, id string) {
	if p.needed(path, id); id != "" {
		p.text(path, id, idLength)
	}
	if id != strings.TrimSpace(id) {
		p.add(path, "begins or ends with a space")
	}
}

// needed asks for a text that says something.
func (p *problems) needed(path, text string) {
	if strings.TrimSpace(text) == "" {
		p.add(path, "is missing")
	}
}

// text judges one line of text; a note may have several.
func (p *problems) text(path, text string, most int) {
	if length := utf8.RuneCountInString(text); length > most {
		p.add(path, "has %d letters, but may have %d", length, most)
	}
	odd := func(r rune) bool { return unicode.IsControl(r) && (most < noteLength || r != '\n' && r != '\t') }
	if strings.ContainsFunc(text, odd) || !utf8.ValidString(text) {
		p.add(path, "has characters that cannot be printed")
	}
}

// count judges a whole number.
func (p *problems) count(path string, value, least int) {
	switch {
	case value < least:
		p.add(path, "is %d, but must be at least %d", value, least)
	case value > strict.Most:
		p.add(path, "is %d, but must be at most %d", value, strict.Most)
	}
}

// amount judges a decimal; the comparison is so written that it refuses what
// is no number.
func (p *problems) amount(path string, value float64) {
	if !(value >= 0 && value <= strict.Most) {
		p.add(path, "is %v, but must be from 0 to %d", value, strict.Most)
	}
}

// date judges a date that must be there.
func (p *problems) date(path string, date shop.Date) {
	if date == 0 {
		p.add(path, "is missing")
	}
}

// oneOf judges a word that is one of several.
func (p *problems) oneOf(path, word string, words ...string) {
	for _, w := range words {
		if w == word {
			return
		}
	}
	p.add(path, "is %q, but must be one of %s", word, strings.Join(words, ", "))
}

// A productSet holds the ids of what the shop makes.
type productSet map[string]bool

// productOrder returns the ids of all products, in the shop's order.
func productOrder(tx *gorm.DB) (ids []string, err error) {
	return ids, tx.Model(&thingRow{}).Where("kind = 'product'").Order("position").Pluck("id", &ids).Error
}

func productsOf(tx *gorm.DB) (productSet, error) {
	ids, err := productOrder(tx)
	set := productSet{}
	for _, id := range ids {
		set[id] = true
	}
	return set, err
}

// product judges a reference to a product.
func (p *problems) product(path, id string, known productSet) {
	switch {
	case id == "":
		p.add(path, "is missing")
	case !known[id]:
		p.add(path, "there is no product %q", id)
	}
}
