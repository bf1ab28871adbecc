// Package schema describes the types of the file formats for the document, as
// package strict reads them.
package schema

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// Of describes a type of the file formats by the tags that package
// strict reads it by, so that the document says what the reader takes: null is
// as good as absent, numbers have an end, nothing unknown is there.
func Of(t reflect.Type) *huma.Schema {
	if s := formOf(t); s != nil {
		return s
	}
	switch t.Kind() {
	case reflect.Pointer:
		return nullable(Of(t.Elem()))
	case reflect.Struct:
		return objectOf(t)
	case reflect.Map:
		return &huma.Schema{Type: huma.TypeObject, AdditionalProperties: nullable(Of(t.Elem()))}
	case reflect.Slice:
		return &huma.Schema{Type: huma.TypeArray, Items: Of(t.Elem())}
	case reflect.Array:
		n := t.Len()
		return &huma.Schema{Type: huma.TypeArray, Items: Of(t.Elem()), MinItems: &n, MaxItems: &n}
	case reflect.String:
		one := 1 // a text is not empty, unless its field says that it may be
		return &huma.Schema{Type: huma.TypeString, MinLength: &one}
	case reflect.Bool:
		return &huma.Schema{Type: huma.TypeBoolean}
	case reflect.Int:
		return &huma.Schema{Type: huma.TypeInteger}
	case reflect.Float64:
		return &huma.Schema{Type: huma.TypeNumber}
	}
	panic("schema: no schema for " + t.String())
}

// formOf describes a type that has a text form of its own, nil for others.
func formOf(t reflect.Type) *huma.Schema {
	if !reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) || t.Kind() == reflect.Pointer {
		return nil
	}
	s := &huma.Schema{Type: huma.TypeString}
	switch t {
	case reflect.TypeFor[shop.Instant]():
		s.Format, s.Description = "date-time", "RFC 3339, on a whole minute"
	case reflect.TypeFor[shop.Date]():
		s.Format = "date"
	case reflect.TypeFor[shop.Clock]():
		s.Description = "HH:MM, 24:00 at the latest"
	case reflect.TypeFor[shop.Stage]():
		for _, stage := range shop.Stages() {
			s.Enum = append(s.Enum, stage.String())
		}
	}
	return s
}

func objectOf(t reflect.Type) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeObject, Properties: map[string]*huma.Schema{}, AdditionalProperties: false}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		of := Of(f.Type)
		bound(of, f.Tag)
		switch {
		case f.Type.Kind() == reflect.Slice && of.MinItems == nil, strings.HasPrefix(options, "omit"):
			of = nullable(of)
		default:
			s.Required = append(s.Required, name)
		}
		s.Properties[name] = of
	}
	return s
}

// bound adds what a field's tags say to its schema.
func bound(s *huma.Schema, tag reflect.StructTag) {
	number := func(key string) *float64 {
		text, ok := tag.Lookup(key)
		if !ok {
			return nil
		}
		value, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic("schema: tag with " + text + " for a number")
		}
		return &value
	}
	switch s.Type {
	case huma.TypeInteger, huma.TypeNumber:
		low, high := -float64(strict.Most), float64(strict.Most)
		s.Minimum, s.Maximum = &low, &high
		if m := number("min"); m != nil {
			s.Minimum = m
		}
		if m := number("max"); m != nil {
			s.Maximum = m
		}
		if m := number("above"); m != nil {
			s.Minimum, s.ExclusiveMinimum = nil, m
		}
	case huma.TypeArray:
		if m := number("min"); m != nil {
			n := int(*m)
			s.MinItems = &n
		}
	case huma.TypeString:
		if tag.Get("empty") == "ok" {
			s.MinLength = nil
		}
	}
}

func nullable(s *huma.Schema) *huma.Schema {
	s.Nullable = true
	return s
}
