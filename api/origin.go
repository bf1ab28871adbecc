package api

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// sameOrigin refuses what another site's page has a browser send here in its
// user's name. Programs send no such headers and pass.
func sameOrigin() gin.HandlerFunc {
	protection := http.NewCrossOriginProtection()
	return func(c *gin.Context) {
		if err := protection.Check(c.Request); err != nil {
			fail(c, respond.New(http.StatusForbidden, "this request comes from another site's page"))
			return
		}
		c.Next()
	}
}
