package api

import (
	"sync/atomic"

	"github.com/gin-gonic/gin"
)

// A crowd is the requests that are to be answered, to which a plan that is being made
// gives way.
type crowd struct{ waiting atomic.Int64 }

// count counts a request until it is answered, but for one that follows events: it
// has no end.
func (w *crowd) count(c *gin.Context) {
	if c.FullPath() != followed {
		w.waiting.Add(1)
		defer w.waiting.Add(-1)
	}
	c.Next()
}

// followed is where events are followed.
const followed = "/api/v1/events"
