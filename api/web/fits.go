package web

import (
	"strings"

	"blankwright/scheduler/fit"
	"blankwright/scheduler/shop"
)

// A Verdict is what the shop makes of one section under one profile.
type Verdict struct {
	Section, Product string
	Profile          string
	Why              string // why it does not qualify; empty where it does
}

// verdictsOf judges a section under each of the shop's profiles.
func verdictsOf(s *shop.Shop, product *shop.Product, section *shop.Section) []Verdict {
	report := fit.Of(s, section)
	out := make([]Verdict, len(report.Profiles))
	for i := range report.Profiles {
		p := &report.Profiles[i]
		out[i] = Verdict{Section: section.ID, Product: product.Name, Profile: p.ID, Why: strings.Join(p.Why, "; ")}
		if p.Qualifies() && len(p.Ovens) == 0 {
			out[i].Why = "no oven runs it"
		}
	}
	return out
}

// eachSection visits every section of a shop.
func eachSection(s *shop.Shop, visit func(*shop.Product, *shop.Section)) {
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			visit(&s.Products[i], &s.Products[i].Sections[j])
		}
	}
}

// verdicts judges every section of a shop under one profile.
func verdicts(s *shop.Shop, profile string) (cured, not []Verdict) {
	eachSection(s, func(product *shop.Product, section *shop.Section) {
		for _, v := range verdictsOf(s, product, section) {
			switch {
			case v.Profile != profile:
			case v.Why == "":
				cured = append(cured, v)
			default:
				not = append(not, v)
			}
		}
	})
	return cured, not
}

// unmade says of each section that can never be made why that is.
func unmade(s *shop.Shop) []string {
	var out []string
	eachSection(s, func(_ *shop.Product, section *shop.Section) {
		if report := fit.Of(s, section); !report.Makes {
			out = append(out, "Section "+section.ID+": "+report.Why+".")
		}
	})
	return out
}

func mandrelType(s *shop.Shop, id string) shop.MandrelType {
	for _, m := range s.MandrelTypes {
		if m.ID == id {
			return m
		}
	}
	return shop.MandrelType{ID: id}
}
