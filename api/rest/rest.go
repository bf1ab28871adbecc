// Package rest is the JSON interface under /api/v1: one file to a resource,
// each with its operations, what they take and what they answer. The OpenAPI
// document is made from the same types.
//
// It decodes, asks the books and answers; what a change means and whether it
// may be is judged by store. It draws no page and never imports api/web. The
// server imports it.
package rest

import (
	"log/slog"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	"blankwright/api/access"
	"blankwright/api/runs"
	"blankwright/store"
)

// Base is where the interface begins.
const Base = "/api/v1"

// Parts are what the resources work on.
type Parts struct {
	Books *store.Books
	Gate  *access.Gate
	Runs  *runs.Manager
	Log   *slog.Logger
	Now   func() time.Time
	// Stopping is closed when the server begins to stop.
	Stopping <-chan struct{}
}

// resources lists the resources: a new one adds its row.
var resources = []func(*routes){
	document,
	events,
	sessions,
	accounts,
	tokens,
	trail,
	exchange,
	catalog,
	fits,
	wraps,
	dealers,
	orders,
	lines,
	holds,
	demandCSV,
	claims,
	levels,
	stock,
	shipments,
	planning,
	plans,
	differences,
	needs,
	notices,
	tick,
	shipping,
	releases,
	floor,
	reports,
	standing,
	mandrels,
	cribWork,
	rolls,
}

// routes is what a resource adds its operations to.
type routes struct {
	Parts
	api huma.API
}

// Mount adds the interface to an engine.
func Mount(engine *gin.Engine, p Parts) {
	r := &routes{Parts: p, api: humagin.NewWithGroup(engine, engine.Group(Base), config())}
	for _, resource := range resources {
		resource(r)
	}
}
