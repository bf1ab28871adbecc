package strict

import "fmt"

type kind byte

const (
	null kind = iota
	boolean
	number
	text
	list
	object
)

// String names a kind as messages do.
func (k kind) String() string {
	return [...]string{"null", "true or false", "a number", "text", "a list", "an object"}[k]
}

// A node is one JSON value. Its text is the decoded text, or the literal of a
// number or of true and false.
type node struct {
	kind    kind
	at      int // its first byte's offset in the file
	text    string
	items   []node
	members []member
}

type member struct {
	name  string
	at    int
	value node
}

// flat reports whether a value holds no list or object that is not empty.
func (n *node) flat() bool {
	for i := range n.items {
		if !n.items[i].empty() {
			return false
		}
	}
	for i := range n.members {
		if !n.members[i].value.empty() {
			return false
		}
	}
	return true
}

func (n *node) empty() bool { return len(n.items) == 0 && len(n.members) == 0 }

// walk calls visit with the path of every value.
func (n *node) walk(path string, visit func(path string, at int)) {
	visit(path, n.at)
	for i := range n.items {
		n.items[i].walk(item(path, i), visit)
	}
	for i := range n.members {
		m := &n.members[i]
		m.value.walk(Field(path, m.name), visit)
	}
}

func item(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// Field returns the path of an object's member: with a dot, or quoted where
// the name would not read well after one.
func Field(path, name string) string {
	if !plain(name) {
		return fmt.Sprintf("%s[%q]", path, short(name))
	}
	if path == "" {
		return name
	}
	return path + "." + name
}

// longest is how many letters of a text a message repeats.
const longest = 60

func short(s string) string {
	if runes := []rune(s); len(runes) > longest {
		return string(runes[:longest]) + "…"
	}
	return s
}

func plain(name string) bool {
	for _, r := range name {
		word := r == '_' || r == '-' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
		if !word {
			return false
		}
	}
	return name != "" && len(name) <= longest
}
