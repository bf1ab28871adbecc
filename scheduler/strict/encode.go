package strict

import (
	"bytes"
	"encoding"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Encode writes a struct in the one canonical form that Read reads: fields in
// the struct's order, maps by key, one space a level, what holds no list or
// object on one line, a newline at the end. Optional fields that are zero or
// empty are left out; other lists and maps are written when empty too.
//
// It panics on what no file can hold, an infinite or undefined number or a
// value without its text form: that is a mistake of the program.
func Encode(v any) []byte {
	w := writer{}
	root := build(reflect.Indirect(reflect.ValueOf(v)))
	w.value(&root, 0)
	w.buffer.WriteByte('\n')
	return w.buffer.Bytes()
}

func build(v reflect.Value) node {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return node{kind: null, text: "null"}
		}
		return build(v.Elem())
	}
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		return node{kind: text, text: form(m)}
	}
	switch v.Kind() {
	case reflect.Struct:
		return buildObject(v)
	case reflect.Map:
		return buildTable(v)
	case reflect.Slice, reflect.Array:
		n := node{kind: list}
		for i := range v.Len() {
			n.items = append(n.items, build(v.Index(i)))
		}
		return n
	}
	return buildScalar(v)
}

func form(m encoding.TextMarshaler) string {
	written, err := m.MarshalText()
	if err != nil {
		panic("strict: " + err.Error())
	}
	return string(written)
}

func buildObject(v reflect.Value) node {
	n := node{kind: object}
	for _, spec := range fieldsOf(v.Type()) {
		f := v.Field(spec.index)
		if spec.optional && blank(f) {
			continue
		}
		n.members = append(n.members, member{name: spec.name, value: build(f)})
	}
	return n
}

// blank reports whether an optional field reads the same when it is absent.
func blank(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	case reflect.Float64:
		return v.Float() == 0
	}
	return v.IsZero()
}

func buildTable(v reflect.Value) node {
	n := node{kind: object}
	for entries := v.MapRange(); entries.Next(); {
		key := build(entries.Key())
		n.members = append(n.members, member{name: key.text, value: build(entries.Value())})
	}
	slices.SortFunc(n.members, func(a, b member) int { return strings.Compare(a.name, b.name) })
	return n
}

func buildScalar(v reflect.Value) node {
	switch v.Kind() {
	case reflect.String:
		return node{kind: text, text: v.String()}
	case reflect.Bool:
		return node{kind: boolean, text: strconv.FormatBool(v.Bool())}
	case reflect.Int:
		return node{kind: number, text: strconv.FormatInt(v.Int(), 10)}
	case reflect.Float64:
		return node{kind: number, text: literal(v.Float())}
	}
	panic("strict: no form for " + v.Type().String())
}

// literal writes a decimal in the fewest digits that read back the same.
func literal(value float64) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		panic("strict: " + strconv.FormatFloat(value, 'g', -1, 64) + " is no number of a file")
	}
	written, err := json.Marshal(value + 0) // -0 is written as 0
	if err != nil {
		panic("strict: " + err.Error())
	}
	return string(written)
}

// A writer prints a tree.
type writer struct{ buffer bytes.Buffer }

func (w *writer) value(n *node, depth int) {
	switch n.kind {
	case object:
		w.enclose('{', '}', len(n.members), n.flat(), depth, func(i int) {
			w.quote(n.members[i].name)
			w.buffer.WriteString(": ")
			w.value(&n.members[i].value, depth+1)
		})
	case list:
		w.enclose('[', ']', len(n.items), n.flat(), depth, func(i int) {
			w.value(&n.items[i], depth+1)
		})
	case text:
		w.quote(n.text)
	default:
		w.buffer.WriteString(n.text)
	}
}

// enclose writes entries between brackets, each on its line unless flat.
func (w *writer) enclose(first, last byte, count int, flat bool, depth int, entry func(int)) {
	w.buffer.WriteByte(first)
	for i := range count {
		switch {
		case !flat:
			w.line(depth + 1)
		case i > 0:
			w.buffer.WriteByte(' ')
		}
		entry(i)
		if i < count-1 {
			w.buffer.WriteByte(',')
		}
	}
	if !flat {
		w.line(depth)
	}
	w.buffer.WriteByte(last)
}

func (w *writer) line(depth int) {
	w.buffer.WriteByte('\n')
	for range depth {
		w.buffer.WriteByte(' ')
	}
}

func (w *writer) quote(s string) {
	e := json.NewEncoder(&w.buffer)
	e.SetEscapeHTML(false) // these files are never part of a page
	if err := e.Encode(s); err != nil {
		panic("strict: " + err.Error())
	}
	w.buffer.Truncate(w.buffer.Len() - 1) // the encoder's newline
}
