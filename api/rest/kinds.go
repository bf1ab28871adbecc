package rest

import (
	"reflect"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A kind is a sort of thing in the catalog: its name in the books, its place
// in the interface, the type of its form, and who may change it. Mandrels and
// rolls have resources of their own.
type kind struct {
	name   string // in the books
	plural string // in paths and operations
	form   reflect.Type
	what   string // in sentences
	may    string // the row of the table of access for changes
	only   bool   // there is one, at the plural's path
	fixed  bool   // none is added or removed
	rows   bool   // bears no id of its own
}

func kinds() []kind {
	return []kind{
		{name: "settings", plural: "settings", form: reflect.TypeFor[store.Settings](), what: "the shop's settings", may: "change-settings", only: true},
		{name: "policy", plural: "policy", form: reflect.TypeFor[shop.Policy](), what: "the shop's policy: prices and rules of thumb", may: "change-settings", only: true},
		{name: "calendar", plural: "calendars", form: reflect.TypeFor[shop.Calendar](), what: "a calendar", may: "change-catalog"},
		{name: "crew", plural: "crews", form: reflect.TypeFor[shop.Crew](), what: "a crew", may: "change-catalog"},
		{name: "station", plural: "stations", form: reflect.TypeFor[shop.Station](), what: "a stage's station", may: "change-catalog", fixed: true},
		{name: "resin", plural: "resins", form: reflect.TypeFor[shop.Resin](), what: "a resin", may: "change-catalog"},
		{name: "tape", plural: "tapes", form: reflect.TypeFor[shop.Tape](), what: "a shrink tape", may: "change-catalog"},
		{name: "prepreg", plural: "prepregs", form: reflect.TypeFor[shop.Prepreg](), what: "a prepreg", may: "change-catalog"},
		{name: "profile", plural: "profiles", form: reflect.TypeFor[shop.Profile](), what: "a cure profile", may: "change-catalog"},
		{name: "oven", plural: "ovens", form: reflect.TypeFor[shop.Oven](), what: "an oven", may: "change-catalog"},
		{name: "rack", plural: "racks", form: reflect.TypeFor[shop.Rack](), what: "a type of rack", may: "change-catalog"},
		{name: "mandrel_type", plural: "mandrel-types", form: reflect.TypeFor[shop.MandrelType](), what: "a type of mandrel", may: "change-catalog"},
		{name: "product", plural: "products", form: reflect.TypeFor[shop.Product](), what: "a product with its sections", may: "change-catalog"},
		{name: "incoming", plural: "incoming", form: reflect.TypeFor[shop.Incoming](), what: "good pieces to come from elsewhere", may: "change-catalog", rows: true},
		{name: "downtime", plural: "downtime", form: reflect.TypeFor[shop.Downtime](), what: "a time for which an oven or a station is closed", may: "change-downtime", rows: true},
	}
}
