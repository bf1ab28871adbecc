package shop

import (
	"maps"
	"slices"

	"blankwright/scheduler/strict"
)

// ids are all ids of a shop file to which something may refer.
type ids struct {
	calendars, crews, resins, tapes, prepregs, profiles *strict.Ids
	ovens, racks, mandrelTypes, products, sections      *strict.Ids
	setups                                              map[string]*strict.Ids // of each rack
}

// collect takes in a shop's ids, and reports those that come twice.
func collect(doc *strict.Document, s *Shop) *ids {
	add(doc.Ids("supply"), "supply", s.Supply, func(r Supply) string { return r.ID })
	add(doc.Ids("mandrel"), "mandrels", s.Mandrels, func(r Mandrel) string { return r.ID })
	add(doc.Ids("line"), "demand", s.Demand, func(r Line) string { return r.ID })
	return &ids{
		calendars:    collectCalendars(doc, s),
		crews:        add(doc.Ids("crew"), "crews", s.Crews, func(r Crew) string { return r.ID }),
		resins:       add(doc.Ids("resin"), "resins", s.Resins, func(r Resin) string { return r.ID }),
		tapes:        add(doc.Ids("tape"), "tapes", s.Tapes, func(r Tape) string { return r.ID }),
		prepregs:     add(doc.Ids("prepreg"), "prepregs", s.Prepregs, func(r Prepreg) string { return r.ID }),
		profiles:     add(doc.Ids("profile"), "profiles", s.Profiles, func(r Profile) string { return r.ID }),
		ovens:        add(doc.Ids("oven"), "ovens", s.Ovens, func(r Oven) string { return r.ID }),
		racks:        add(doc.Ids("rack"), "racks", s.Racks, func(r Rack) string { return r.ID }),
		mandrelTypes: add(doc.Ids("mandrel type"), "mandrel_types", s.MandrelTypes, func(r MandrelType) string { return r.ID }),
		products:     add(doc.Ids("product"), "products", s.Products, func(r Product) string { return r.ID }),
		sections:     collectSections(doc, s),
		setups:       collectSetups(doc, s),
	}
}

// add takes in the ids of a list's rows.
func add[Row any](to *strict.Ids, list string, rows []Row, id func(Row) string) *strict.Ids {
	to.List(list)
	for i, row := range rows {
		to.Add(index(list, i)+".id", id(row))
	}
	return to
}

func collectCalendars(doc *strict.Document, s *Shop) *strict.Ids {
	to := doc.Ids("calendar")
	to.List("calendars")
	for _, id := range calendarIDs(s) {
		to.Add(strict.Field("calendars", id), id)
	}
	return to
}

func calendarIDs(s *Shop) []string { return slices.Sorted(maps.Keys(s.Calendars)) }

// collectSections takes in the sections of the whole file, whose ids differ.
func collectSections(doc *strict.Document, s *Shop) *strict.Ids {
	to := doc.Ids("section")
	to.List("products")
	for i, p := range s.Products {
		add(to, index("products", i)+".sections", p.Sections, func(r Section) string { return r.ID })
	}
	return to
}

func collectSetups(doc *strict.Document, s *Shop) map[string]*strict.Ids {
	of := map[string]*strict.Ids{}
	for i, r := range s.Racks {
		setups := add(doc.Ids("set-up"), index("racks", i)+".setups", r.Setups, func(s Setup) string { return s.ID })
		if _, twice := of[r.ID]; !twice {
			of[r.ID] = setups
		}
	}
	return of
}
