package store

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A kind is one sort of thing that the shop consists of, and where a shop file
// has it.
type kind struct {
	name  string
	field string
	shape shape
	// rows returns what a shop has of the kind, in the file's order.
	rows func(s *shop.Shop) []row
	// fill gives a shop all its things of the kind, in the file's order.
	fill func(s *shop.Shop, ids, bodies []string) error
}

// A row is a thing in a shop: its id, and the value that the file states.
type row struct {
	id    string
	value any
}

// A shape says how a shop file holds the things of a kind.
type shape int

const (
	list  shape = iota // rows, one after the other
	table              // an object, by id
	fixed              // an object whose ids are given: none is new, none goes
	one                // the field itself is the only thing
	head               // the file's own fields
)

// Settings are what a shop file says of itself.
type Settings struct {
	Name        string `json:"name"`
	Timezone    string `json:"timezone"`
	HorizonDays int    `json:"horizon_days" min:"1" max:"36525"`
}

// kinds are all kinds of things, in the order of a shop file.
func kinds() []kind {
	return []kind{
		settings(),
		calendars(),
		policy(),
		listed("crew", "crews", func(s *shop.Shop) *[]shop.Crew { return &s.Crews }, func(r shop.Crew) string { return r.ID }),
		stations(),
		listed("resin", "resins", func(s *shop.Shop) *[]shop.Resin { return &s.Resins }, func(r shop.Resin) string { return r.ID }),
		listed("tape", "tapes", func(s *shop.Shop) *[]shop.Tape { return &s.Tapes }, func(r shop.Tape) string { return r.ID }),
		listed("prepreg", "prepregs", func(s *shop.Shop) *[]shop.Prepreg { return &s.Prepregs }, func(r shop.Prepreg) string { return r.ID }),
		listed("profile", "profiles", func(s *shop.Shop) *[]shop.Profile { return &s.Profiles }, func(r shop.Profile) string { return r.ID }),
		listed("oven", "ovens", func(s *shop.Shop) *[]shop.Oven { return &s.Ovens }, func(r shop.Oven) string { return r.ID }),
		listed("rack", "racks", func(s *shop.Shop) *[]shop.Rack { return &s.Racks }, func(r shop.Rack) string { return r.ID }),
		listed("mandrel_type", "mandrel_types", func(s *shop.Shop) *[]shop.MandrelType { return &s.MandrelTypes }, func(r shop.MandrelType) string { return r.ID }),
		products(),
		listed[shop.Incoming]("incoming", "incoming", func(s *shop.Shop) *[]shop.Incoming { return &s.Incoming }, nil),
		listed[shop.Downtime]("downtime", "downtime", func(s *shop.Shop) *[]shop.Downtime { return &s.Downtime }, nil),
	}
}

// Kinds returns the names of all kinds of things, in the order of a shop file.
func Kinds() []string {
	var names []string
	for _, k := range kinds() {
		names = append(names, k.name)
	}
	return names
}

// kindNamed returns a kind by its name.
func kindNamed(name string) (kind, error) {
	all := kinds()
	i := slices.IndexFunc(all, func(k kind) bool { return k.name == name })
	if i < 0 {
		return kind{}, notFound("kind of thing", name)
	}
	return all[i], nil
}

// listed is a kind whose things are the rows of a list. Where rows bear no id,
// id is nil and the books number them.
func listed[T any](name, field string, of func(*shop.Shop) *[]T, id func(T) string) kind {
	return kind{
		name: name, field: field, shape: list,
		rows: func(s *shop.Shop) []row {
			var out []row
			for i, value := range *of(s) {
				if id == nil {
					out = append(out, row{fmt.Sprint(i + 1), value})
					continue
				}
				out = append(out, row{id(value), value})
			}
			return out
		},
		fill: func(s *shop.Shop, _, bodies []string) (err error) {
			*of(s), err = decodeAll[T](bodies)
			return err
		},
	}
}

// products bear no stock here: it is counted by moves.
func products() kind {
	k := listed("product", "products", func(s *shop.Shop) *[]shop.Product { return &s.Products }, func(r shop.Product) string { return r.ID })
	stocked := k.rows
	k.rows = func(s *shop.Shop) []row {
		out := stocked(s)
		for i := range out {
			p := out[i].value.(shop.Product)
			p.Stock = 0
			out[i].value = p
		}
		return out
	}
	return k
}

func calendars() kind {
	return kind{
		name: "calendar", field: "calendars", shape: table,
		rows: func(s *shop.Shop) []row {
			var out []row
			for id, c := range s.Calendars {
				out = append(out, row{id, c})
			}
			slices.SortFunc(out, func(a, b row) int { return strings.Compare(a.id, b.id) })
			return out
		},
		fill: func(s *shop.Shop, ids, bodies []string) error {
			all, err := decodeAll[shop.Calendar](bodies)
			s.Calendars = map[string]shop.Calendar{}
			for i, c := range all {
				s.Calendars[ids[i]] = c
			}
			return err
		},
	}
}

func stations() kind {
	return kind{
		name: "station", field: "stations", shape: fixed,
		rows: func(s *shop.Shop) []row {
			var out []row
			for _, stage := range shop.Stages() {
				out = append(out, row{stage.String(), *s.Stations.At(stage)})
			}
			return out
		},
		fill: func(s *shop.Shop, ids, bodies []string) error {
			all, err := decodeAll[shop.Station](bodies)
			for i, station := range all {
				var stage shop.Stage
				err = errors.Join(err, stage.UnmarshalText([]byte(ids[i])))
				*s.Stations.At(stage) = station
			}
			return err
		},
	}
}

func policy() kind {
	return kind{
		name: "policy", field: "policy", shape: one,
		rows: func(s *shop.Shop) []row { return []row{{"policy", s.Policy}} },
		fill: func(s *shop.Shop, _, bodies []string) (err error) {
			s.Policy, err = decode[shop.Policy]([]byte(bodies[0]))
			return err
		},
	}
}

func settings() kind {
	return kind{
		name: "settings", shape: head,
		rows: func(s *shop.Shop) []row {
			return []row{{"settings", Settings{s.Name, s.Timezone, s.HorizonDays}}}
		},
		fill: func(s *shop.Shop, _, bodies []string) error {
			said, err := decode[Settings]([]byte(bodies[0]))
			s.Name, s.Timezone, s.HorizonDays = said.Name, said.Timezone, said.HorizonDays
			return err
		},
	}
}

// decode reads what the books keep of a thing.
func decode[T any](body []byte) (T, error) {
	var value T
	err := strict.Read(body, &value).Err()
	return value, err
}

// decodeAll reads many bodies as one text, which is much quicker than one by
// one, and not again where they are what they were the last time: that is most of
// what most requests would wait for. What lies within a row is shared: nobody
// changes it.
func decodeAll[T any](bodies []string) ([]T, error) {
	text := `{"rows": [` + strings.Join(bodies, ",") + "]}"
	if last, ok := lastRead.Load(reflect.TypeFor[T]()); ok && last.(*rowsRead[T]).text == text {
		return slices.Clone(last.(*rowsRead[T]).rows), nil
	}
	all, err := decode[struct {
		Rows []T `json:"rows"`
	}]([]byte(text))
	if err == nil {
		lastRead.Store(reflect.TypeFor[T](), &rowsRead[T]{text, slices.Clone(all.Rows)})
	}
	return all.Rows, err
}

// A rowsRead is what a text was read as.
type rowsRead[T any] struct {
	text string
	rows []T
}

// lastRead has the last reading of each type.
var lastRead sync.Map
