package api

import (
	"net/http"
	"net/url"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// maxBody is the most bytes of any request's body, a shop file's. Operations
// set lower limits of their own.
const maxBody = 32 << 20

// limited cuts off a body that no operation takes.
func limited(c *gin.Context) {
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, maxBody+1)
	c.Next()
}

// wellFormed refuses a path or a query that is no UTF-8 text or holds control
// characters: no id or name does, and neither the log nor a page should.
func wellFormed(c *gin.Context) {
	var bad []respond.Field
	if !isText(c.Request.URL.Path) {
		bad = append(bad, respond.Field{Location: "path", Message: notText})
	}
	query, err := url.ParseQuery(c.Request.URL.RawQuery)
	if err != nil {
		bad = append(bad, respond.Field{Location: "query", Message: "is not written as a query is"})
	}
	for name, values := range query {
		if !isText(name) || !isText(strings.Join(values, "")) {
			bad = append(bad, respond.Field{Location: "query", Message: notText})
			break
		}
	}
	if len(bad) > 0 {
		fail(c, respond.New(http.StatusBadRequest, "the address of the request is malformed", bad...))
		return
	}
	c.Next()
}

const notText = "is not text in UTF-8 without control characters"

func isText(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f })
}
