package rest

import (
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// references judges a section that stands in no shop file: it names only what
// the shop has. Its error is all that is wrong with it, its form included.
func references(doc *strict.Document, s *shop.Shop, section *shop.Section) error {
	known(doc, "mandrel", "mandrel type", section.Mandrel, s.MandrelTypes, func(m shop.MandrelType) string { return m.ID })
	known(doc, "tape", "tape", section.Tape, s.Tapes, func(t shop.Tape) string { return t.ID })
	for i, profile := range section.Profiles {
		known(doc, fmt.Sprintf("profiles[%d]", i), "profile", profile, s.Profiles, func(p shop.Profile) string { return p.ID })
	}
	for i, flag := range section.Flags {
		known(doc, fmt.Sprintf("flags[%d].prepreg", i), "prepreg", flag.Prepreg, s.Prepregs, func(p shop.Prepreg) string { return p.ID })
	}
	return doc.Err()
}

func known[T any](doc *strict.Document, path, what, id string, list []T, idOf func(T) string) {
	if !slices.ContainsFunc(list, func(t T) bool { return idOf(t) == id }) {
		doc.Add(path, "no %s %q", what, id)
	}
}
