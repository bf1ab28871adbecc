package check

import "blankwright/scheduler/shop"

// A catalogue finds the shop's things by their ids.
type catalogue struct {
	ovens        map[string]*shop.Oven
	profiles     map[string]*shop.Profile
	racks        map[string]*shop.Rack
	resins       map[string]*shop.Resin
	tapes        map[string]*shop.Tape
	prepregs     map[string]*shop.Prepreg
	mandrelTypes map[string]*shop.MandrelType
	products     map[string]*shop.Product
	sections     map[string]*shop.Section
	lines        map[string]*shop.Line
}

func newCatalogue(s *shop.Shop) *catalogue {
	k := &catalogue{
		ovens:        index(s.Ovens, func(o *shop.Oven) string { return o.ID }),
		profiles:     index(s.Profiles, func(p *shop.Profile) string { return p.ID }),
		racks:        index(s.Racks, func(r *shop.Rack) string { return r.ID }),
		resins:       index(s.Resins, func(r *shop.Resin) string { return r.ID }),
		tapes:        index(s.Tapes, func(t *shop.Tape) string { return t.ID }),
		prepregs:     index(s.Prepregs, func(p *shop.Prepreg) string { return p.ID }),
		mandrelTypes: index(s.MandrelTypes, func(m *shop.MandrelType) string { return m.ID }),
		products:     index(s.Products, func(p *shop.Product) string { return p.ID }),
		lines:        index(s.Demand, func(l *shop.Line) string { return l.ID }),
		sections:     map[string]*shop.Section{},
	}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			k.sections[section.ID] = section
		}
	}
	return k
}

// index maps each item of a list by its id.
func index[T any](list []T, id func(*T) string) map[string]*T {
	byID := make(map[string]*T, len(list))
	for i := range list {
		byID[id(&list[i])] = &list[i]
	}
	return byID
}

// setup returns a rack's set-up by its id; nil where it has none such.
func setup(rack *shop.Rack, id string) *shop.Setup {
	for i := range rack.Setups {
		if rack.Setups[i].ID == id {
			return &rack.Setups[i]
		}
	}
	return nil
}

// prepregs returns the prepregs of a section's flags, each once.
func prepregs(section *shop.Section) []string {
	var ids []string
	seen := map[string]bool{}
	for _, flag := range section.Flags {
		if !seen[flag.Prepreg] {
			seen[flag.Prepreg] = true
			ids = append(ids, flag.Prepreg)
		}
	}
	return ids
}
