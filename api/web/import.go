package web

import (
	"context"
	"io"
	"net/http"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/strict"
)

// ImportBooks are what the page for a first shop file asks of the books.
type ImportBooks interface {
	Import(ctx context.Context, file []byte) error
}

func (p *pages) importRoutes() []route {
	return []route{
		get("/import", "import", func(c *gin.Context) { p.showForm(c, p.importForm(c)) }),
		post("/import", "import", p.importFile),
	}
}

func (p *pages) importForm(c *gin.Context) *FormPage {
	return &FormPage{
		Frame: p.frame(c, "Begin with a shop file", "/catalog"), Back: Option{"/catalog", "Catalog"}, Action: "/import", Button: "Import it", File: true,
		Note:   "Into empty books only. The file is read strictly: all that is wrong with it is told, and then nothing of it is taken.",
		Fields: []Field{{Name: "file", Label: "Shop file", Kind: "file", Required: true}},
	}
}

// importFile fills empty books from a shop file.
func (p *pages) importFile(c *gin.Context) {
	file, err := sentFile(c)
	if err == nil {
		err = p.Books.Import(c.Request.Context(), file)
	}
	if err != nil {
		c.Request.PostForm = nil
		p.refuseForm(c, err, p.importForm(c))
		return
	}
	done(c, "/catalog", "The books hold what the file states.")
}

func sentFile(c *gin.Context) ([]byte, error) {
	header, err := c.FormFile("file")
	if err != nil {
		return nil, strict.Problems{{Path: "file", Message: "is missing"}}
	}
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }() // it was read
	return io.ReadAll(http.MaxBytesReader(c.Writer, file, header.Size))
}
