package strict

import "strings"

// Ids are the ids of one list of things, to which other places of a file
// refer.
type Ids struct {
	doc   *Document
	what  string // one such thing, as messages name it
	order []string
	at    map[string]string // the path of each id
	torn  bool              // an id could not be read: any reference may mean it
}

// Ids returns an empty list of ids of what, which is one word or two.
func (d *Document) Ids(what string) *Ids {
	return &Ids{doc: d, what: what, at: map[string]string{}}
}

// Add takes in the id at a path, and reports one that is already there.
func (ids *Ids) Add(path, id string) {
	if id == "" {
		ids.torn = true
		return
	}
	if first, twice := ids.at[id]; twice {
		ids.doc.Add(path, "%q is already the id at %s", short(id), first)
		return
	}
	ids.at[id] = path
	ids.order = append(ids.order, id)
}

// List says where the list is. When it could not be read as a list, no
// reference to it is judged.
func (ids *Ids) List(path string) { ids.torn = ids.torn || ids.doc.Bad(path) }

// Refer reports a reference at a path that names none of the ids. One that
// could not be read is passed over.
func (ids *Ids) Refer(path, id string) {
	if id == "" || ids.torn || ids.Has(id) {
		return
	}
	ids.doc.Add(path, "no %s %q; %s", ids.what, short(id), ids.choice())
}

// Has reports whether an id is there.
func (ids *Ids) Has(id string) bool {
	_, ok := ids.at[id]
	return ok
}

// named is how many ids a message offers.
const named = 6

func (ids *Ids) choice() string {
	if len(ids.order) == 0 {
		return "there are none"
	}
	offer := make([]string, 0, named+1)
	for i, id := range ids.order {
		if i == named {
			offer = append(offer, "…")
			break
		}
		offer = append(offer, short(id))
	}
	return "there are " + strings.Join(offer, ", ")
}
