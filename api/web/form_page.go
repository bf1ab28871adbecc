package web

import (
	"io"
	"net/http"

	"github.com/gin-gonic/gin"
)

// A FormPage is one form by itself: what is entered now and then.
type FormPage struct {
	Frame
	Back   Option // the page that it belongs to: its address and its name
	Note   string
	Action string
	Button string
	Rev    int64
	Fields []Field
	File   bool     // it sends a file
	Remove string   // the address that removes it; empty where it cannot be
	Lists  []IDList // for the inputs that propose something
}

// Render writes the page.
func (p *FormPage) Render(w io.Writer) error { return render(w, "form", p) }

// A ListPage is a plain list whose rows lead to their forms.
type ListPage struct {
	Frame
	Note     string
	Head     []string
	Figures  int // how many of the last columns hold numbers
	Rows     []ListRow
	Add      string // the address of the form for a new one; empty where the caller may not
	AddWords string // what leads there; empty: the usual words
	Empty    string
	Older    string // the address of the rows after these
}

// Figure reports whether the i-th column holds numbers.
func (p *ListPage) Figure(i int) bool { return i >= len(p.Head)-p.Figures }

// A ListRow is one row of a list; the first cell leads to the address.
type ListRow struct {
	Address string
	Cells   []string
}

// Render writes the page.
func (p *ListPage) Render(w io.Writer) error { return render(w, "list", p) }

// refuseForm shows a form again with what was wrong with it.
func (p *pages) refuseForm(c *gin.Context, err error, page *FormPage) {
	f := filled{values: c.Request.PostForm}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, page.Fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	page.Wrong, page.Fields = whole, f.fill(page.Fields)
	for i := range page.Fields {
		if page.Fields[i].Kind == "password" {
			page.Fields[i].Value = ""
		}
	}
	p.show(c, status, "form", page)
}

func (p *pages) showForm(c *gin.Context, page *FormPage) { p.show(c, http.StatusOK, "form", page) }
