package api

import (
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// recovered turns a panic into a log entry and an answer that tells nothing
// of it.
func recovered(log *slog.Logger) gin.HandlerFunc {
	return func(c *gin.Context) {
		defer func() {
			switch r := recover(); r {
			case nil:
			case http.ErrAbortHandler:
				panic(r) // net/http's own way to drop a connection
			default:
				log.ErrorContext(c.Request.Context(), "panic", "error", fmt.Sprint(r), "stack", string(debug.Stack()))
				fail(c, respond.New(http.StatusInternalServerError, "internal error"))
			}
		}()
		c.Next()
	}
}

// fail ends a request with a problem, unless its answer has begun.
func fail(c *gin.Context, p *respond.Problem) {
	if !c.Writer.Written() {
		p.Request = respond.Request(c.Request.Context())
		respond.Write(c.Writer, p)
	}
	c.Abort()
}
