package access

import (
	"net/http"
	"path"
	"slices"

	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
)

// A Route is what the server answers, and the operation that it stands for.
type Route struct{ Method, Path, Operation string }

// Handle adds a route for an operation to a group: those get in whom the table
// lets in. Routes of package rest are added there.
func (g *Gate) Handle(group *gin.RouterGroup, method, at, operation string, handlers ...gin.HandlerFunc) {
	g.Record(method, path.Join(group.BasePath(), at), operation)
	group.Handle(method, at, append([]gin.HandlerFunc{g.require(operation)}, handlers...)...)
}

// Record notes a route that is guarded by Refuse.
func (g *Gate) Record(method, at, operation string) {
	g.routes = append(g.routes, Route{method, at, operation})
}

// Routes returns all routes of an engine; one that the gate does not guard has
// no operation.
func (g *Gate) Routes(engine *gin.Engine) []Route {
	var list []Route
	for _, info := range engine.Routes() {
		route := Route{Method: info.Method, Path: info.Path}
		i := slices.IndexFunc(g.routes, func(r Route) bool { return r.Method == info.Method && r.Path == info.Path })
		if i >= 0 {
			route.Operation = g.routes[i].Operation
		}
		list = append(list, route)
	}
	return list
}

// Unknown returns the operations of routes that have no row in the table.
func (g *Gate) Unknown() []string {
	var list []string
	for _, r := range g.routes {
		if !Known(r.Operation) {
			list = append(list, r.Operation)
		}
	}
	return list
}

// require lets those in who may carry out an operation.
func (g *Gate) require(operation string) gin.HandlerFunc {
	return func(c *gin.Context) {
		if p := g.Refuse(c.Request.Context(), operation); p != nil {
			Deny(c.Writer, p)
			c.Abort()
			return
		}
		c.Next()
	}
}

// Deny answers with what Refuse returned.
func Deny(w http.ResponseWriter, p *respond.Problem) {
	if p.Status == http.StatusUnauthorized {
		w.Header().Set("WWW-Authenticate", `Bearer realm="blankwright"`)
	}
	respond.Write(w, p)
}
