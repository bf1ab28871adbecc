package store

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

const (
	idLength   = 60 // letters of an id that the books give or take
	lineLength = 200
	noteLength = 4000
)

// id judges an id that is to be new.
func (p *findings) id(path, id string) {
	if p.needed(path, id); id != "" {
		p.text(path, id, idLength)
	}
	if id != strings.TrimSpace(id) {
		p.say(path, "begins or ends with a space")
	}
}

// needed asks for a text that says something.
func (p *findings) needed(path, text string) {
	if strings.TrimSpace(text) == "" {
		p.say(path, "is missing")
	}
}

// text judges one line of text; a note may have several.
func (p *findings) text(path, text string, most int) {
	if length := utf8.RuneCountInString(text); length > most {
		p.say(path, "has %d letters, but may have %d", length, most)
	}
	odd := func(r rune) bool { return unicode.IsControl(r) && (most < noteLength || r != '\n' && r != '\t') }
	if strings.ContainsFunc(text, odd) || !utf8.ValidString(text) {
		p.say(path, "has characters that cannot be printed")
	}
}

// count judges a whole number.
func (p *findings) count(path string, value, least int) {
	switch {
	case value < least:
		p.say(path, "is %d, but must be at least %d", value, least)
	case value > strict.Most:
		p.say(path, "is %d, but must be at most %d", value, strict.Most)
	}
}

// amount judges a decimal; the comparison is so written that it refuses what
// is no number.
func (p *findings) amount(path string, value float64) {
	if !(value >= 0 && value <= strict.Most) {
		p.say(path, "is %v, but must be from 0 to %d", value, strict.Most)
	}
}

// date judges a date that must be there.
func (p *findings) date(path string, date shop.Date) {
	if date == 0 {
		p.say(path, "is missing")
	}
}

// oneOf judges a word that is one of several.
func (p *findings) oneOf(path, word string, words ...string) {
	for _, w := range words {
		if w == word {
			return
		}
	}
	p.say(path, "is %q, but must be one of %s", word, strings.Join(words, ", "))
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
func (p *findings) product(path, id string, known productSet) {
	switch {
	case id == "":
		p.say(path, "is missing")
	case !known[id]:
		p.say(path, "there is no product %q", id)
	}
}
