package sheet

import (
	"slices"

	"blankwright/scheduler/shop"
)

// A Caution is one warning, with the authority on which it rests. It belongs
// where the danger is, not at the foot of a page.
type Caution struct {
	About     string `json:"about"` // the danger, in a word or two
	Text      string `json:"text"`
	Authority string `json:"authority"`
}

// Rule stands on every sheet: what has the last word, and what a sheet is not.
const Rule = "Local codes, the material's data sheet and licensed practice rule. " +
	"This sheet starts, holds and clears no oven and no machine: it is neither a purge nor a lock-out."

var (
	resin    = Caution{"resin", "Uncured epoxy can sensitise skin: gloves and sleeves, no solvent on skin.", "OSHA Technical Manual III-1; the SDS"}
	scrap    = Caution{"scrap", "Never bulk uncured scrap in one pile to cure: it can run away.", "the SDS"}
	dust     = Caution{"dust", "Carbon dust irritates and conducts: extract it at the source; combustible dust rules apply.", "OSHA; NFPA 660"}
	hotSteel = Caution{"hot steel", "Mandrels and racks burn: cool down, tag, gloves.", "29 CFR 1910.138, cited from memory"}
	machines = Caution{"machines", "Guards on and lock-out before any reach into the machine.", "29 CFR 1910.212, .147, cited from memory"}
	oven     = Caution{"oven", "Where vapour can be flammable, the oven is Class A: purge, vapour below 25 % LFL, relief, yearly test of the interlocks.", "NFPA 86; local fire code"}
)

// StationCautions returns what to heed at a stage.
func StationCautions(stage shop.Stage) []Caution {
	return [shop.StageCount][]Caution{
		shop.Cut:  {resin, scrap},
		shop.Tack: {resin, scrap},
		shop.Roll: {resin, machines, scrap},
		shop.Wrap: {resin, machines, scrap},
		shop.Pull: {hotSteel, machines},
		shop.Trim: {dust, machines},
	}[stage]
}

// OvenCautions returns what to heed at loading, cure and unloading.
func OvenCautions() []Caution { return []Caution{oven, scrap, hotSteel} }

// Cautions returns all that belong on the day's sheet, each once.
func (d *Day) Cautions() []Caution {
	var out []Caution
	add := func(cautions []Caution) {
		for _, c := range cautions {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	for i := range d.Stations {
		if d.Stations[i].Working() {
			add(StationCautions(d.Stations[i].Stage))
		}
	}
	if slices.ContainsFunc(d.Loads, func(l Load) bool { return l.InOven }) {
		add(OvenCautions())
	}
	return out
}
