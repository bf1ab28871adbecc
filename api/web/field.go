package web

import (
	"net/url"
	"strings"

	"blankwright/scheduler/strict"
)

// A Field is one input of a form, with what is wrong with it at its place.
type Field struct {
	Name     string
	Label    string
	Kind     string // an input's type, or select, area, check
	Value    string
	Hint     string
	Problem  string
	Step     string // of a number; "" is whole numbers
	Least    string // of a number
	Required bool
	Quiet    bool   // it is not said that it is needed: nearly all are
	Focus    bool   // begins there
	List     string // the id of a list of proposals
	Scope    string // keeps ids apart where a page has several forms
	Options  []Option
}

// An Option is one choice of a select.
type Option struct{ Value, Name string }

// ID is the input's id: its name without what selectors trip over.
func (f Field) ID() string {
	return "f" + f.Scope + "-" + strings.NewReplacer("[", "-", "]", "", ".", "-", " ", "-", "/", "-").Replace(f.Name)
}

// Notes is the id of what describes the input, or nothing.
func (f Field) Notes() string {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, f.ID()+"-hint")
	}
	if f.Problem != "" {
		ids = append(ids, f.ID()+"-problem")
	}
	return strings.Join(ids, " ")
}

// Chosen reports whether an option is the field's value.
func (f Field) Chosen(o Option) bool { return o.Value == f.Value }

// Checked reports whether a box is ticked.
func (f Field) Checked() bool { return f.Value != "" && f.Value != "false" }

// A filled form is what was sent and what is wrong with it, by field.
type filled struct {
	values   url.Values
	problems map[string]string
}

// fill puts what was sent and what was wrong into fields. The first that is
// wrong is where the page opens.
func (f filled) fill(fields []Field) []Field {
	led := false
	for i := range fields {
		name := fields[i].Name
		if f.values != nil {
			fields[i].Value = f.values.Get(name)
		}
		fields[i].Problem = f.problems[name]
		if fields[i].Problem != "" && !led {
			fields[i].Focus, led = true, true
		}
	}
	return fields
}

// refuse notes what is wrong with a field; the first word counts.
func (f *filled) refuse(name, problem string) {
	if f.problems == nil {
		f.problems = map[string]string{}
	}
	if _, ok := f.problems[name]; !ok {
		f.problems[name] = problem
	}
}

// take notes the problems that the books found, by their paths, and returns
// those that are of no field of the form.
func (f *filled) take(problems strict.Problems, fields []Field) []string {
	var others []string
	for _, p := range problems {
		name, ok := fieldFor(p.Path, fields)
		if !ok {
			others = append(others, p.String())
			continue
		}
		f.refuse(name, p.Message)
	}
	return others
}

// fieldFor finds the field that a path is about: that of the same name, or of
// its last part.
func fieldFor(path string, fields []Field) (string, bool) {
	last := path[strings.LastIndex(path, ".")+1:]
	for _, name := range []string{path, last} {
		for _, f := range fields {
			if f.Name == name {
				return name, true
			}
		}
	}
	return "", false
}
