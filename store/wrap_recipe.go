package store

import (
	"context"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// WrapTerms say how the shrink tape goes onto a section: how far the helix moves
// on with each turn, how hard the tape is pulled, and how often it is wound from
// end to end. No plan needs them; the wrap sheet and the wrapping spindle do.
type WrapTerms struct {
	PitchMM  float64 `json:"pitch_mm"`
	TensionN float64 `json:"tension_n"`
	Passes   int     `json:"passes"`
}

// Turns is how often the tape goes round a section: its length by the pitch, in
// each pass. The length is that of its longest flag.
func (t WrapTerms) Turns(section *shop.Section) float64 {
	var length float64
	for _, f := range section.Flags {
		length = max(length, f.LengthMM)
	}
	return length / t.PitchMM * float64(t.Passes)
}

// A WrapRecipe is a section's.
type WrapRecipe struct {
	Section string `json:"section"`
	Product string `json:"product"`
	Tape    string `json:"tape"`
	WrapTerms
	Rev int64 `json:"rev"` // 0 until somebody has set it
}

type wrapRecipeRow struct {
	Section  string  `gorm:"primaryKey"`
	PitchMM  float64 `gorm:"column:pitch_mm"`
	TensionN float64 `gorm:"column:tension_n"`
	Passes   int
	Rev      int64
}

func (wrapRecipeRow) TableName() string { return "wrap_recipes" }

func (r wrapRecipeRow) terms() WrapTerms { return WrapTerms{r.PitchMM, r.TensionN, r.Passes} }

// WrapRecipes returns those of every section, in the shop's order.
func (b *Books) WrapRecipes(ctx context.Context) ([]WrapRecipe, error) {
	var out []WrapRecipe
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		out, err = wrapRecipes(tx)
		return err
	})
	return out, doing(err, "wrap recipes")
}

// WrapRecipe returns that of a section, which nobody may have set yet.
func (b *Books) WrapRecipe(ctx context.Context, section string) (WrapRecipe, error) {
	var out WrapRecipe
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		out, err = wrapRecipeOf(tx, section)
		return err
	})
	return out, doing(err, "wrap recipe")
}

func wrapRecipes(tx *gorm.DB) ([]WrapRecipe, error) {
	var bodies []string
	if err := tx.Model(&thingRow{}).Where("kind = 'product'").Order("position").Pluck("body", &bodies).Error; err != nil {
		return nil, err
	}
	products, err := decodeAll[shop.Product](bodies)
	if err != nil {
		return nil, err
	}
	var rows []wrapRecipeRow
	if err := tx.Find(&rows).Error; err != nil {
		return nil, err
	}
	set := map[string]wrapRecipeRow{}
	for _, r := range rows {
		set[r.Section] = r
	}
	var out []WrapRecipe
	for _, p := range products {
		for _, s := range p.Sections {
			out = append(out, WrapRecipe{s.ID, p.ID, s.Tape, set[s.ID].terms(), set[s.ID].Rev})
		}
	}
	return out, nil
}

func wrapRecipeOf(tx *gorm.DB, section string) (WrapRecipe, error) {
	all, err := wrapRecipes(tx)
	if err != nil {
		return WrapRecipe{}, err
	}
	for _, r := range all {
		if r.Section == section {
			return r, nil
		}
	}
	return WrapRecipe{}, notFound("section", section)
}

// SetWrapRecipe says how the tape goes onto a section.
func (b *Books) SetWrapRecipe(ctx context.Context, section string, terms WrapTerms, rev int64) (WrapRecipe, error) {
	var after WrapRecipe
	err := b.write(ctx, func(tx *gorm.DB) (err error) {
		after, err = setWrapRecipe(tx, section, terms, rev)
		return err
	})
	return after, doing(err, "set wrap recipe")
}

func setWrapRecipe(tx *gorm.DB, section string, terms WrapTerms, rev int64) (WrapRecipe, error) {
	was, err := wrapRecipeOf(tx, section)
	if err != nil {
		return was, err
	}
	var p findings
	p.above("pitch_mm", terms.PitchMM)
	p.above("tension_n", terms.TensionN)
	p.count("passes", terms.Passes, 1)
	if err := p.err(); err != nil {
		return was, err
	}
	if was.Rev > 0 && rev == MustBeNew {
		return was, conflict("there is a wrap recipe of section %q already", section)
	}
	if rev != MustBeNew {
		if err := checkRev("wrap recipe of section", section, rev, was.Rev); err != nil {
			return was, err
		}
	}
	if was.Rev > 0 && was.WrapTerms == terms {
		return was, nil
	}
	row := wrapRecipeRow{section, terms.PitchMM, terms.TensionN, terms.Passes, was.Rev + 1}
	if err := tx.Save(&row).Error; err != nil {
		return was, err
	}
	var from any
	if was.Rev > 0 {
		from = was.WrapTerms
	}
	now := was
	now.WrapTerms, now.Rev = terms, row.Rev
	return now, trail(tx, "wrap_recipe", section, "set", from, terms)
}

// above judges a decimal that must be more than nothing.
func (p *findings) above(path string, value float64) {
	if p.amount(path, value); value == 0 {
		p.say(path, "is 0, but must be above 0")
	}
}

// RemoveWrapRecipe takes away what was said of a section's tape.
func (b *Books) RemoveWrapRecipe(ctx context.Context, section string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		was, err := wrapRecipeOf(tx, section)
		if err == nil && was.Rev == 0 {
			err = notFound("wrap recipe of section", section)
		}
		if err == nil {
			err = checkRev("wrap recipe of section", section, rev, was.Rev)
		}
		if err != nil {
			return err
		}
		if err := tx.Delete(&wrapRecipeRow{Section: section}).Error; err != nil {
			return err
		}
		return trail(tx, "wrap_recipe", section, "removed", was.WrapTerms, nil)
	}), "remove wrap recipe")
}
