// Package thing turns the things of the catalog into forms and back: whatever
// a shop file states of a resin, an oven or a product, each value a field under
// its path, lists with rows to add and to take out.
//
// It follows the shop's own types, so that a field that is added there is in
// its form. What is sent back becomes JSON again, as it stands: what is wrong
// with it is for the books to say, at the same paths. It imports the engine's
// shop and the standard library.
package thing

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"blankwright/scheduler/shop"
)

// A Part is one node of a form: a value, a group of values, or a list of rows.
type Part struct {
	Path  string // from the thing, as problems name it
	Label string
	Kind  Kind
	Value string // of a value, as its input holds it
	// Refers names the kind of thing whose id the value is; empty for most.
	Refers string
	Must   bool   // it may not be left empty
	Hint   string // how to write it
	Parts  []Part // of a group or list
}

// A Kind says what a part is, and by which input it is entered.
type Kind string

// The kinds of parts.
const (
	Group   Kind = "group"
	List    Kind = "list"
	Text    Kind = "text"
	Lines   Kind = "lines" // a text with a row to a line
	Whole   Kind = "whole"
	Decimal Kind = "decimal"
	Tick    Kind = "tick"
	Day     Kind = "day"
	Moment  Kind = "moment"
)

// Form returns the form of a value of the shop's types, as the books keep it in
// JSON; empty JSON is a new one.
func Form(of reflect.Type, body []byte, zone *time.Location) (Part, error) {
	value := reflect.New(of)
	if len(body) > 0 {
		if err := json.Unmarshal(body, value.Interface()); err != nil {
			return Part{}, fmt.Errorf("form of a %s: %w", of.Name(), err)
		}
	}
	w := &writer{zone: zone, blank: len(body) == 0}
	return w.group("", "", value.Elem()), nil
}

// A writer writes values into parts.
type writer struct {
	zone  *time.Location
	blank bool // nothing is known yet: numbers are left empty, not nought
}

func (w *writer) group(path, label string, v reflect.Value) Part {
	out := Part{Path: path, Label: label, Kind: Group}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		part := w.part(join(path, name), name, v.Field(i))
		part.Must = part.Must && options == ""
		if v.Field(i).IsZero() && (w.blank || options != "") {
			part.Value = "" // absent, which is not the same as 0 where 0 is refused
		}
		out.Parts = append(out.Parts, part)
	}
	return out
}

// part writes one field.
func (w *writer) part(path, name string, v reflect.Value) Part {
	out := Part{Path: path, Label: Label(name), Refers: refers[name], Must: true, Kind: kindOf(v.Type())}
	switch out.Kind {
	case Group:
		return w.group(path, out.Label, v)
	case List:
		for i := range v.Len() {
			entry := w.group(fmt.Sprintf("%s[%d]", path, i), fmt.Sprintf("%s %d", singular(out.Label), i+1), v.Index(i))
			out.Parts = append(out.Parts, entry)
		}
	case Lines:
		out.Value, out.Hint, out.Must = w.lines(v), hints[v.Type()], false
	case Tick:
		out.Must = false
		if v.Bool() {
			out.Value = "true"
		}
	default:
		out.Value, out.Hint = w.text(v), hints[v.Type()]
	}
	return out
}

// kindOf says by which input a type is entered.
func kindOf(t reflect.Type) Kind {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t {
	case typeOf[shop.Instant]():
		return Moment
	case typeOf[shop.Date]():
		return Day
	case typeOf[[]shop.Window](), typeOf[map[shop.Date][]shop.Window](), typeOf[[]string](), typeOf[[]*string](), typeOf[[]shop.Instant]():
		return Lines
	}
	switch t.Kind() {
	case reflect.Struct:
		return Group
	case reflect.Slice:
		return List
	case reflect.Bool:
		return Tick
	case reflect.Int:
		return Whole
	case reflect.Float64:
		return Decimal
	}
	return Text
}

func typeOf[T any]() reflect.Type { return reflect.TypeFor[T]() }

// text writes a value of one input; what is zero is left empty.
func (w *writer) text(v reflect.Value) string {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return ""
		}
		v = v.Elem()
	}
	switch x := v.Interface().(type) {
	case shop.Instant:
		if x == (shop.Instant{}) {
			return ""
		}
		return shop.InstantIn(x.Minute, w.zone).Time().Format(momentForm)
	case shop.Date:
		return x.String()
	}
	return strings.TrimSuffix(fmt.Sprint(v.Interface()), "%!v(nil)")
}

// momentForm is how a browser holds a local date and time.
const momentForm = "2006-01-02T15:04"

// lines writes a list of plain values, a row to a line.
func (w *writer) lines(v reflect.Value) string {
	var out []string
	switch x := v.Interface().(type) {
	case []string:
		out = x
	case []*string:
		for _, s := range x {
			if s == nil {
				out = append(out, nothing)
				continue
			}
			out = append(out, *s)
		}
	case []shop.Instant:
		for _, i := range x {
			out = append(out, shop.InstantIn(i.Minute, w.zone).Time().Format(momentForm))
		}
	case []shop.Window:
		return windows(x)
	case map[shop.Date][]shop.Window:
		for date, open := range x {
			text := windows(open)
			if text == "" {
				text = closed
			}
			out = append(out, date.String()+": "+text)
		}
		slices.Sort(out)
	}
	return strings.Join(out, "\n")
}

const (
	nothing = "-"
	closed  = "closed"
)

func windows(list []shop.Window) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = w[0].String() + "–" + w[1].String()
	}
	return strings.Join(out, ", ")
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Each visits a part and all under it.
func (p *Part) Each(visit func(*Part)) {
	visit(p)
	for i := range p.Parts {
		p.Parts[i].Each(visit)
	}
}
