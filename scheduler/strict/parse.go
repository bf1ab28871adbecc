package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// deepest is how many lists and objects may stand in each other.
const deepest = 64

// refusal is a problem of the text as such, found at a byte.
type refusal struct {
	at      int
	message string
}

// parse turns a text into a tree, or says why it is no JSON.
func parse(data []byte) (node, *refusal) {
	if bad := unreadable(data); bad != nil {
		return node{}, bad
	}
	p := parser{data: data}
	root := p.value(0)
	return root, p.bad
}

// unreadable judges encoding and grammar, so that the parser may take both as
// given.
func unreadable(data []byte) *refusal {
	if bytes.HasPrefix(data, []byte("\ufeff")) {
		return &refusal{0, "starts with a byte order mark, which JSON has not"}
	}
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size == 1 {
			return &refusal{at, "this byte is not UTF-8"}
		}
		at += size
	}
	err := json.Unmarshal(data, new(json.RawMessage))
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		return &refusal{max(0, int(syntax.Offset)-1), "no JSON: " + syntax.Error()}
	}
	return nil
}

// A parser builds the tree of a text that is valid JSON.
type parser struct {
	data []byte
	pos  int
	bad  *refusal // the first
}

func (p *parser) refuse(at int, message string) {
	if p.bad == nil {
		p.bad = &refusal{at, message}
	}
}

// next returns the byte after any white space.
func (p *parser) next() byte {
	for bytes.IndexByte([]byte(" \t\r\n"), p.data[p.pos]) >= 0 {
		p.pos++
	}
	return p.data[p.pos]
}

func (p *parser) value(depth int) node {
	first := p.next()
	n := node{at: p.pos}
	if depth > deepest {
		p.refuse(p.pos, fmt.Sprintf("more than %d lists and objects stand in each other", deepest))
	}
	if p.bad != nil {
		return n
	}
	switch first {
	case '{':
		p.object(&n, depth)
	case '[':
		p.list(&n, depth)
	case '"':
		n.kind, n.text = text, p.text()
	default:
		p.literal(&n)
	}
	return n
}

func (p *parser) object(n *node, depth int) {
	n.kind = object
	p.pos++
	for p.next() != '}' && p.bad == nil {
		if p.next() == ',' {
			p.pos++
			continue
		}
		m := member{at: p.pos, name: p.text()}
		p.next()
		p.pos++ // the colon
		m.value = p.value(depth + 1)
		n.members = append(n.members, m)
	}
	p.pos++
}

func (p *parser) list(n *node, depth int) {
	n.kind = list
	p.pos++
	for p.next() != ']' && p.bad == nil {
		if p.next() == ',' {
			p.pos++
			continue
		}
		n.items = append(n.items, p.value(depth+1))
	}
	p.pos++
}

func (p *parser) literal(n *node) {
	end := p.pos
	for end < len(p.data) && bytes.IndexByte([]byte(" \t\r\n,]}"), p.data[end]) < 0 {
		end++
	}
	n.text = string(p.data[p.pos:end])
	p.pos = end
	switch n.text {
	case "null":
		n.kind = null
	case "true", "false":
		n.kind = boolean
	default:
		n.kind = number
	}
}

func (p *parser) text() string {
	start := p.pos
	for p.pos++; p.data[p.pos] != '"'; p.pos++ {
		if p.data[p.pos] == '\\' {
			p.pos++
		}
	}
	p.pos++
	raw := p.data[start:p.pos]
	if bytes.IndexByte(raw, '\\') < 0 {
		return string(raw[1 : len(raw)-1])
	}
	if halved(raw) {
		p.refuse(start, `this text holds half of a \u pair, which is no letter`)
	}
	var s string
	if err := json.Unmarshal(raw, &s); err != nil {
		p.refuse(start, err.Error())
	}
	return s
}

// halved reports whether a quoted text escapes one half of a surrogate pair
// without the other: the standard library reads that as another letter.
func halved(raw []byte) bool {
	for i := 0; i < len(raw); i++ {
		if raw[i] != '\\' {
			continue
		}
		first := escaped(raw, i)
		if !utf16.IsSurrogate(first) {
			i++
			continue
		}
		if utf16.DecodeRune(first, escaped(raw, i+6)) == utf8.RuneError {
			return true
		}
		i += 11
	}
	return false
}

// escaped returns the code unit of the \uXXXX at i, or 0.
func escaped(raw []byte, i int) rune {
	if i+6 > len(raw) || raw[i] != '\\' || raw[i+1] != 'u' {
		return 0
	}
	unit, err := strconv.ParseUint(string(raw[i+2:i+6]), 16, 16)
	if err != nil {
		return 0
	}
	return rune(unit)
}

// place names a byte of the text as an editor does.
func place(data []byte, at int) string {
	before := data[:min(at, len(data))]
	line := bytes.Count(before, []byte("\n")) + 1
	column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
	return fmt.Sprintf("line %d, column %d", line, column)
}
