package api

import (
	"context"
	"log/slog"
	"net/http"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// alive says that the process answers.
func alive(c *gin.Context) { c.String(http.StatusOK, "alive\n") }

// ready says whether requests can be served: the books can be read. What is
// wrong with them stands in the log.
func ready(log *slog.Logger, books interface{ Ready(context.Context) error }) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := books.Ready(c.Request.Context()); err != nil {
			log.ErrorContext(c.Request.Context(), "not ready", "error", err)
			fail(c, respond.New(http.StatusServiceUnavailable, "the books can't be read"))
			return
		}
		c.String(http.StatusOK, "ready\n")
	}
}
