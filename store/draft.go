package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A draft is a shop file in which one thing is being changed. The thing is
// put in as its caller wrote it, so that package shop judges its form and what
// it means for all the rest at once.
type draft map[string]json.RawMessage

func draftOf(s *shop.Shop) (draft, error) {
	var d draft
	return d, json.Unmarshal(s.Encode(), &d)
}

// put states a thing, at place at of its list, and returns the path at which
// it then stands.
func (d draft) put(k kind, at int, id string, body []byte) (path string, err error) {
	switch k.shape {
	case head:
		return "", d.merge(body)
	case one:
		d[k.field] = body
		return k.field, nil
	case table, fixed:
		entries := map[string]json.RawMessage{}
		if err := d.get(k.field, &entries); err != nil {
			return "", err
		}
		entries[id] = body
		return strict.Field(k.field, id), d.set(k.field, entries)
	default:
		var rows []json.RawMessage
		if err := d.get(k.field, &rows); err != nil {
			return "", err
		}
		if at == len(rows) {
			rows = append(rows, nil)
		}
		rows[at] = body
		return fmt.Sprintf("%s[%d]", k.field, at), d.set(k.field, rows)
	}
}

// remove takes a thing out.
func (d draft) remove(k kind, at int, id string) error {
	if k.shape == table {
		entries := map[string]json.RawMessage{}
		if err := d.get(k.field, &entries); err != nil {
			return err
		}
		delete(entries, id)
		return d.set(k.field, entries)
	}
	var rows []json.RawMessage
	if err := d.get(k.field, &rows); err != nil {
		return err
	}
	return d.set(k.field, slices.Delete(rows, at, at+1))
}

// merge states the fields of a file's head.
func (d draft) merge(body []byte) error {
	said, err := decode[Settings](body)
	if err != nil {
		return err
	}
	var fields draft
	if err := json.Unmarshal(strict.Encode(said), &fields); err != nil {
		return err
	}
	maps.Copy(d, fields)
	return nil
}

// get reads a field; a list that is empty is not in the file.
func (d draft) get(field string, into any) error {
	if d[field] == nil {
		return nil
	}
	return json.Unmarshal(d[field], into)
}

func (d draft) set(field string, value any) (err error) {
	d[field], err = json.Marshal(value)
	return err
}

// read has the draft judged. Problems of the thing itself, which stands at own,
// are named from there, all others from "shop".
func (d draft) read(own string) (*shop.Shop, error) {
	text, err := json.Marshal(d)
	if err != nil {
		return nil, err
	}
	s, err := shop.Read(text)
	var found strict.Problems
	if !errors.As(err, &found) {
		return s, err
	}
	for i, p := range found {
		found[i].Path = pathFrom(own, p.Path)
	}
	return nil, found
}

// elsewhere is what stands before the path of a problem that a change makes
// in another place.
const elsewhere = "shop"

func pathFrom(own, path string) string {
	if rest, ok := strings.CutPrefix(path, own); own != "" && ok {
		if rest == "" {
			return ""
		}
		if rest[0] == '.' {
			return rest[1:]
		}
		if rest[0] == '[' {
			return rest
		}
	}
	if own == "" && slices.Contains([]string{"name", "timezone", "horizon_days"}, path) {
		return path
	}
	return elsewhere + "." + path
}
