package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"path"
	"strings"

	"blankwright/api/web/draw"
	"blankwright/api/web/unit"
)

//go:embed templates/*.gohtml
var templateFiles embed.FS

// templates holds each page's template with the frame and the parts that all
// share. A template that cannot be read is a mistake of ours: it stops at the
// program's start.
var templates = parseTemplates()

func parseTemplates() map[string]*template.Template {
	names, err := fs.Glob(templateFiles, "templates/*.gohtml")
	if err != nil {
		panic(err)
	}
	shared := template.Must(template.New("").Funcs(functions).ParseFS(templateFiles, "templates/_*.gohtml"))
	out := map[string]*template.Template{}
	for _, name := range names {
		base := strings.TrimSuffix(path.Base(name), ".gohtml")
		if !strings.HasPrefix(base, "_") {
			out[base] = template.Must(template.Must(shared.Clone()).ParseFS(templateFiles, name))
		}
	}
	return out
}

// functions are what templates may call beside their page's own methods.
var functions = template.FuncMap{
	"asset":   assetAddress,
	"counted": draw.Counted,
	"number":  unit.Number,
	"fixed":   unit.Fixed,
	"minutes": unit.Minutes,
	"add":     func(a, b int) int { return a + b },
	"join":    strings.Join,
	"path":    url.PathEscape, // an id within an address: it may have slashes
	"once":    onceInput,
	"threads": draw.Threads,
}

// render writes a page whole or not at all.
func render(w io.Writer, name string, page any) error {
	t, ok := templates[name]
	if !ok {
		return fmt.Errorf("there is no template %q", name)
	}
	var out bytes.Buffer
	if err := t.ExecuteTemplate(&out, "frame", page); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	_, err := out.WriteTo(w)
	return err
}

// renderSheet writes a print, which has a frame of its own.
func renderSheet(w io.Writer, name string, page any) error {
	var out bytes.Buffer
	if err := templates[name].ExecuteTemplate(&out, "paper", page); err != nil {
		return fmt.Errorf("print %s: %w", name, err)
	}
	_, err := out.WriteTo(w)
	return err
}
