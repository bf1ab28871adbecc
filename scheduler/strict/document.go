package strict

import (
	"fmt"
	"reflect"
	"sort"
	"strings"
)

// A Document is one JSON text being read, with the problems found so far.
type Document struct {
	root  node
	found []found
	at    map[string]bool // the paths that have a problem
}

type found struct {
	Problem
	at int // offset in the file; unplaced until Err where reading has not set it
}

const unplaced = -1

// Read reads a JSON text into a pointer to a struct, as far as it fits.
//
// A field is required unless its json tag says omitempty or omitzero, or it is
// a list; null reads as an absent field. An empty list or map, and an absent
// one, read as nil. No text is empty unless the tag says empty:"ok". Types with
// UnmarshalText are read from texts. Whole numbers (int) have neither fraction
// nor exponent. A number lies within Most either way, unless the field's tags
// say otherwise: min:"1", max:"1", above:"0"; on a list, min is the least
// number of its entries.
func Read(data []byte, into any) *Document {
	d := &Document{at: map[string]bool{}}
	root, bad := parse(data)
	if bad != nil {
		d.report("", bad.at, "%s: %s", place(data, bad.at), bad.message)
		return d
	}
	d.root = root
	r := reader{doc: d}
	r.value(&d.root, reflect.ValueOf(into).Elem(), "", free)
	return d
}

func (d *Document) report(path string, at int, format string, args ...any) {
	d.found = append(d.found, found{Problem{path, fmt.Sprintf(format, args...)}, at})
	d.at[path] = true
}

// Add reports a problem at a path, unless that place or one around it has
// already been refused: what could not be read is not judged as well.
func (d *Document) Add(path, format string, args ...any) {
	if !d.Bad(path) {
		d.report(path, unplaced, format, args...)
	}
}

// Bad reports whether a place, or one around it, has a problem.
func (d *Document) Bad(path string) bool {
	for ; path != ""; path = parent(path) {
		if d.at[path] {
			return true
		}
	}
	return d.at[""]
}

func parent(path string) string { return path[:max(0, strings.LastIndexAny(path, ".["))] }

// Err returns all Problems in the file's order, or nil when there is none. A
// missing field stands where its object begins.
func (d *Document) Err() error {
	if len(d.found) == 0 {
		return nil
	}
	offsets := map[string]int{}
	d.root.walk("", func(path string, at int) { offsets[path] = at })
	for i := range d.found {
		if f := &d.found[i]; f.at == unplaced {
			f.at = nearest(offsets, f.Path)
		}
	}
	sort.SliceStable(d.found, func(i, j int) bool { return d.found[i].at < d.found[j].at })
	problems := make(Problems, len(d.found))
	for i, f := range d.found {
		problems[i] = f.Problem
	}
	return problems
}

// nearest returns the offset of a path or of what stands around it.
func nearest(offsets map[string]int, path string) int {
	for {
		if at, ok := offsets[path]; ok || path == "" {
			return at
		}
		path = parent(path)
	}
}
