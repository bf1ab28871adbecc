package strict

import (
	"encoding"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A reader fills Go values from nodes and reports what does not fit.
type reader struct {
	doc *Document
}

func (r *reader) value(n *node, v reflect.Value, path string, b bounds) {
	if v.Kind() == reflect.Pointer {
		if n.kind != null {
			v.Set(reflect.New(v.Type().Elem()))
			r.value(n, v.Elem(), path, b)
		}
		return
	}
	if into, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		r.form(n, into, path)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		r.object(n, v, path)
	case reflect.Map:
		r.table(n, v, path)
	case reflect.Slice:
		r.list(n, v, path, b)
	case reflect.Array:
		r.tuple(n, v, path)
	default:
		r.scalar(n, v, path, b)
	}
}

// is reports whether a node has the kind that belongs there, or says so.
func (r *reader) is(n *node, want kind, path string) bool {
	if n.kind != want {
		r.doc.report(path, n.at, "is %s, not %s", n.kind, want)
	}
	return n.kind == want
}

// form reads a type that has a text form of its own.
func (r *reader) form(n *node, into encoding.TextUnmarshaler, path string) {
	if !r.is(n, text, path) {
		return
	}
	if err := into.UnmarshalText([]byte(n.text)); err != nil {
		r.doc.report(path, n.at, "%s", err)
	}
}

func (r *reader) object(n *node, v reflect.Value, path string) {
	if !r.is(n, object, path) {
		return
	}
	specs := fieldsOf(v.Type())
	byName := map[string]*member{}
	for i := range n.members {
		m := &n.members[i]
		if !r.known(m, specs, path) {
			continue
		}
		if _, twice := byName[m.name]; twice {
			r.doc.report(Field(path, m.name), m.at, "is here a second time")
			continue
		}
		byName[m.name] = m
	}
	for _, spec := range specs {
		r.member(n, byName[spec.name], v.Field(spec.index), spec, path)
	}
}

// member reads one field of an object; m is nil where the file has none.
func (r *reader) member(n *node, m *member, v reflect.Value, spec fieldSpec, path string) {
	path = Field(path, spec.name)
	switch {
	case m != nil && m.value.kind != null:
		r.value(&m.value, v, path, spec.bounds)
	case v.Kind() == reflect.Slice:
		r.entries(0, n.at, path, spec.bounds)
	case !spec.optional:
		r.doc.report(path, n.at, "is missing")
	}
}

func (r *reader) known(m *member, specs []fieldSpec, path string) bool {
	if slices.ContainsFunc(specs, func(f fieldSpec) bool { return f.name == m.name }) {
		return true
	}
	names := make([]string, len(specs))
	for i, spec := range specs {
		names[i] = spec.name
	}
	r.doc.report(Field(path, m.name), m.at, "is unknown; the fields here are %s", strings.Join(names, ", "))
	return false
}

// table reads an object whose names are keys; null there is no entry.
func (r *reader) table(n *node, v reflect.Value, path string) {
	if !r.is(n, object, path) {
		return
	}
	seen := map[string]bool{}
	for i := range n.members {
		m := &n.members[i]
		at := Field(path, m.name)
		if seen[m.name] {
			r.doc.report(at, m.at, "is here a second time")
			continue
		}
		seen[m.name] = true
		key := reflect.New(v.Type().Key()).Elem()
		r.value(&node{kind: text, at: m.at, text: m.name}, key, at, free)
		if m.value.kind == null || r.doc.at[at] {
			continue
		}
		entry := reflect.New(v.Type().Elem()).Elem()
		r.value(&m.value, entry, at, free)
		if v.IsNil() {
			v.Set(reflect.MakeMap(v.Type()))
		}
		v.SetMapIndex(key, entry)
	}
}

func (r *reader) list(n *node, v reflect.Value, path string, b bounds) {
	if n.kind == null { // an entry of a list of lists; a field's null is no field
		return
	}
	if !r.is(n, list, path) || len(n.items) == 0 {
		r.entries(len(n.items), n.at, path, b)
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.items), len(n.items)))
	for i := range n.items {
		r.value(&n.items[i], v.Index(i), item(path, i), free)
	}
	r.entries(len(n.items), n.at, path, b)
}

// entries says so where a list has fewer than it needs.
func (r *reader) entries(count, at int, path string, b bounds) {
	if least := b.breach(float64(count)); least != "" && !r.doc.at[path] {
		r.doc.report(path, at, "has %d entries, but must have %s", count, least)
	}
}

func (r *reader) tuple(n *node, v reflect.Value, path string) {
	if !r.is(n, list, path) {
		return
	}
	if len(n.items) != v.Len() {
		r.doc.report(path, n.at, "has %d entries, but must have %d", len(n.items), v.Len())
		return
	}
	for i := range n.items {
		r.value(&n.items[i], v.Index(i), item(path, i), free)
	}
}

func (r *reader) scalar(n *node, v reflect.Value, path string, b bounds) {
	switch v.Kind() {
	case reflect.String:
		if r.is(n, text, path) {
			r.text(n, v, path, b)
		}
	case reflect.Bool:
		if r.is(n, boolean, path) {
			v.SetBool(n.text == "true")
		}
	case reflect.Int:
		if r.is(n, number, path) {
			r.whole(n, v, path, b)
		}
	case reflect.Float64:
		if r.is(n, number, path) {
			r.decimal(n, v, path, b)
		}
	default:
		panic("strict: no form for " + v.Type().String())
	}
}

func (r *reader) text(n *node, v reflect.Value, path string, b bounds) {
	if n.text == "" && !b.blank {
		r.doc.report(path, n.at, "is empty")
	}
	v.SetString(n.text)
}

var wholeForm = regexp.MustCompile(`^-?[0-9]+$`)

func (r *reader) whole(n *node, v reflect.Value, path string, b bounds) {
	if !wholeForm.MatchString(n.text) {
		r.doc.report(path, n.at, "%s is no whole number, which has neither fraction nor exponent", short(n.text))
		return
	}
	if r.within(n, path, b) {
		whole, _ := strconv.ParseInt(n.text, 10, 64) // it is within bounds, so it fits
		v.SetInt(whole)
	}
}

func (r *reader) decimal(n *node, v reflect.Value, path string, b bounds) {
	if r.within(n, path, b) {
		value, _ := strconv.ParseFloat(n.text, 64)
		v.SetFloat(value + 0) // -0 reads as 0
	}
}

// within judges a number by its bounds. One beyond what a float holds parses
// as an infinity, which no bounds allow.
func (r *reader) within(n *node, path string, b bounds) bool {
	value, _ := strconv.ParseFloat(n.text, 64)
	breach := b.breach(value)
	if breach != "" {
		r.doc.report(path, n.at, "is %s, but must be %s", short(n.text), breach)
	}
	return breach == ""
}
