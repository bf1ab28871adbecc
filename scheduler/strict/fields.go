package strict

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// Most is how far a number may lie from 0 where its field's tags don't say
// otherwise: far beyond any shop, and small enough that sums and products of
// such numbers neither overflow nor take all memory.
const Most = 1_000_000_000

// nought is what a divisor must exceed: two decimals closer than that are
// equal, so what is no further from 0 is not above it.
const nought = 0.000001

// bounds says what a number may be, how many entries a list has at least, or
// whether a text may be empty.
type bounds struct {
	min, max float64
	above    bool // above min, not only at least
	blank    bool
}

// free are the bounds of what has no tags.
var free = bounds{min: -Most, max: Most}

// breach says what a value should be, or nothing where it is within bounds.
func (b bounds) breach(value float64) string {
	switch {
	case b.above && value <= b.min:
		return "above " + decimal(b.min)
	case b.above && value <= b.min+nought:
		return "above " + decimal(b.min) + " by more than " + decimal(nought)
	case value < b.min:
		return "at least " + decimal(b.min)
	case value > b.max:
		return "at most " + decimal(b.max)
	}
	return ""
}

func decimal(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// A fieldSpec is one field of a struct as its tags describe it.
type fieldSpec struct {
	name     string
	index    int
	optional bool // absent when it is zero
	bounds   bounds
}

// specsOf holds the fields of each type that was read or written: reading them off
// its tags takes longer than a value of it does.
var specsOf sync.Map // of reflect.Type, []fieldSpec

func fieldsOf(t reflect.Type) []fieldSpec {
	if specs, ok := specsOf.Load(t); ok {
		return specs.([]fieldSpec)
	}
	specs := tagged(t)
	specsOf.Store(t, specs)
	return specs
}

func tagged(t reflect.Type) []fieldSpec {
	specs := make([]fieldSpec, 0, t.NumField())
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		specs = append(specs, fieldSpec{
			name:     name,
			index:    i,
			optional: options == "omitempty" || options == "omitzero",
			bounds:   boundsOf(f.Tag),
		})
	}
	return specs
}

func boundsOf(tag reflect.StructTag) bounds {
	b := free
	for key, bound := range map[string]*float64{"min": &b.min, "above": &b.min, "max": &b.max} {
		if stated, ok := tag.Lookup(key); ok {
			*bound = mustNumber(stated)
		}
	}
	_, b.above = tag.Lookup("above")
	b.blank = tag.Get("empty") == "ok"
	return b
}

func mustNumber(stated string) float64 {
	value, err := strconv.ParseFloat(stated, 64)
	if err != nil || math.IsInf(value, 0) || math.IsNaN(value) {
		panic("strict: tag with " + stated + " for a number")
	}
	return value
}
