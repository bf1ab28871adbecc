package web

import (
	"fmt"
	"slices"

	"blankwright/scheduler/cure"
	"blankwright/scheduler/shop"
)

// A Verdict is what the shop makes of one section under one profile.
type Verdict struct {
	Section, Product string
	Profile          string
	Why              string // why it does not qualify; empty where it does
}

// qualifies says why a profile does not cure a section, or nothing where it
// does: by rule R1, and by some oven that runs it.
func qualifies(s *shop.Shop, section *shop.Section, profile *shop.Profile) string {
	if len(section.Profiles) > 0 && !slices.Contains(section.Profiles, profile.ID) {
		return "the section names other profiles"
	}
	for _, f := range section.Flags {
		for i := range s.Resins {
			if s.Resins[i].ID != resinOf(s, f.Prepreg) {
				continue
			}
			if why := cure.Resin(profile, &s.Resins[i], s.Policy.AmbientC); why != "" {
				return why
			}
		}
	}
	for i := range s.Tapes {
		if s.Tapes[i].ID == section.Tape {
			if why := cure.Tape(profile, &s.Tapes[i], s.Policy.AmbientC); why != "" {
				return why
			}
		}
	}
	for _, o := range s.Ovens {
		if slices.Contains(o.Profiles, profile.ID) {
			return ""
		}
	}
	return "no oven runs it"
}

func resinOf(s *shop.Shop, prepreg string) string {
	for _, p := range s.Prepregs {
		if p.ID == prepreg {
			return p.Resin
		}
	}
	return ""
}

// clears says why no rack clears a section's mandrel, or nothing where one does.
func clears(s *shop.Shop, section *shop.Section) string {
	m := mandrelType(s, section.Mandrel)
	most := 0.0
	for _, o := range s.Ovens {
		for _, r := range s.Racks {
			for _, setup := range r.Setups {
				for _, l := range setup.Levels {
					if r.Count > 0 && setup.OuterHeightMM <= o.HeightMM {
						most = max(most, l.ClearMM)
					}
				}
			}
		}
	}
	if m.HangMM <= most {
		return ""
	}
	return fmt.Sprintf("mandrel %s hangs %.0f mm, and no level that fits an oven clears more than %.0f mm", m.ID, m.HangMM, most)
}

func mandrelType(s *shop.Shop, id string) shop.MandrelType {
	for _, m := range s.MandrelTypes {
		if m.ID == id {
			return m
		}
	}
	return shop.MandrelType{ID: id}
}

// verdicts judges every section of a shop under one profile.
func verdicts(s *shop.Shop, profile *shop.Profile) (cured, not []Verdict) {
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			v := Verdict{Section: section.ID, Product: s.Products[i].Name, Profile: profile.ID, Why: qualifies(s, section, profile)}
			if v.Why == "" {
				cured = append(cured, v)
				continue
			}
			not = append(not, v)
		}
	}
	return cured, not
}

// uncured lists the sections that no profile of the shop cures.
func uncured(s *shop.Shop) []string {
	var out []string
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			if !slices.ContainsFunc(s.Profiles, func(p shop.Profile) bool { return qualifies(s, section, &p) == "" }) {
				out = append(out, section.ID)
			}
		}
	}
	return out
}
