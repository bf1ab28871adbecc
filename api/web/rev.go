package web

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// revOf is the revision that a form was opened at. A form for something new
// has none, and then there must be no such thing yet.
func revOf(c *gin.Context) int64 {
	rev, err := strconv.ParseInt(c.PostForm("rev"), 10, 64)
	if err != nil || rev < 1 {
		return store.MustBeNew
	}
	return rev
}
