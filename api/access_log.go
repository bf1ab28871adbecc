package api

import (
	"log/slog"
	"time"

	"github.com/gin-gonic/gin"
)

// accessLog writes a line for each request when it has ended. The query is
// left out: it may name people.
func accessLog(log *slog.Logger) gin.HandlerFunc {
	return func(c *gin.Context) {
		begun := time.Now()
		c.Next()
		level := slog.LevelInfo
		if c.Writer.Status() >= 500 {
			level = slog.LevelError
		}
		log.LogAttrs(c.Request.Context(), level, "request",
			slog.String("method", c.Request.Method),
			slog.String("path", c.Request.URL.Path),
			slog.Int("status", c.Writer.Status()),
			slog.Int("bytes", max(0, c.Writer.Size())),
			slog.Duration("took", time.Since(begun)),
			slog.String("from", c.ClientIP()),
		)
	}
}
