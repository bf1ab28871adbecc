package api

import (
	"crypto/rand"
	"regexp"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// requestHeader carries the request's id, in and out.
const requestHeader = "X-Request-ID"

// knownID is the form of an id that a proxy may give; another is replaced.
var knownID = regexp.MustCompile(`^[A-Za-z0-9._-]{8,64}$`)

// requestID gives each request an id, or takes over the one that it has: it
// stands in the log, in problem documents and on the books' trail.
func requestID(c *gin.Context) {
	id := c.GetHeader(requestHeader)
	if !knownID.MatchString(id) {
		id = rand.Text()
	}
	c.Header(requestHeader, id)
	c.Request = c.Request.WithContext(respond.WithRequest(c.Request.Context(), id))
	c.Next()
}
