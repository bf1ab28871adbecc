package thing

import (
	"fmt"
	"net/url"
	"reflect"
	"strings"
)

// Sent returns the form of a type as it was sent, to be shown again with what
// is wrong with it: every input holds what was typed, right or not.
func Sent(of reflect.Type, sent url.Values) Part {
	return sentGroup("", "", of, sent)
}

func sentGroup(path, label string, t reflect.Type, sent url.Values) Part {
	out := Part{Path: path, Label: label, Kind: Group}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		part := sentPart(join(path, name), name, f.Type, sent)
		part.Must = part.Must && options == ""
		out.Parts = append(out.Parts, part)
	}
	return out
}

func sentPart(path, name string, t reflect.Type, sent url.Values) Part {
	out := Part{Path: path, Label: Label(name), Refers: refers[name], Kind: kindOf(t), Hint: hints[t]}
	out.Must = out.Kind != Lines && out.Kind != Tick
	switch out.Kind {
	case Group:
		return sentGroup(path, out.Label, t, sent)
	case List:
		for i := range Rows(sent, path) {
			entry := fmt.Sprintf("%s[%d]", path, i)
			out.Parts = append(out.Parts, sentGroup(entry, fmt.Sprintf("%s %d", singular(out.Label), i+1), t.Elem(), sent))
		}
	default:
		out.Value = sent.Get(path)
	}
	return out
}

// Values returns what a form would be sent with as it stands.
func (p *Part) Values() url.Values {
	out := url.Values{}
	p.Each(func(part *Part) {
		switch part.Kind {
		case Group, List:
		default:
			if part.Value != "" {
				out.Set(part.Path, part.Value)
			}
		}
	})
	return out
}
