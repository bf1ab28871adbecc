package api_test

import (
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"blankwright/api/access"
	"blankwright/api/apitest"
)

var noLog = slog.New(slog.DiscardHandler)

// Every route, tried as every role and as nobody, lets in whom the table lets
// in, and no one else.
func TestRoutes_EveryRole(t *testing.T) {
	h := apitest.Open(t)
	for _, route := range h.Server.Routes() {
		if route.Operation == "read-events" {
			continue // its stream has no end; TestEvents tries it
		}
		callers := map[access.Role]*apitest.Client{"": h.As()}
		for _, role := range access.AllRoles() {
			callers[role] = h.As(role)
		}
		for role, client := range callers {
			caller := access.Caller{Name: string(role), Roles: []access.Role{role}}
			if role == "" {
				caller = access.Caller{}
			}
			got := client.Loose().Do(route.Method, "/."+filled(route.Path), nil).Status
			refused := got == http.StatusForbidden || got == http.StatusUnauthorized
			if may := caller.May(route.Operation); may == refused {
				t.Errorf("%s (%s %s) as %q: status %d, but the table says %v", route.Operation, route.Method, route.Path, role, got, may)
			}
			if refused != (role == "") && got == http.StatusUnauthorized && !access.ForEveryone(route.Operation) {
				t.Errorf("%s as %q: status %d", route.Operation, role, got)
			}
		}
	}
}

// Every operation of the table has a route, and every route an operation.
func TestRoutes_TableIsWhole(t *testing.T) {
	h := apitest.Open(t)
	have := map[string]bool{}
	for _, route := range h.Server.Routes() {
		if route.Operation == "" {
			t.Errorf("%s %s has no operation", route.Method, route.Path)
		}
		have[route.Operation] = true
	}
	for _, operation := range access.Operations() {
		if !have[operation] {
			t.Errorf("no route has the operation %s", operation)
		}
	}
}

// Every route under /api stands in the OpenAPI document, and the other way
// round.
func TestRoutes_InDocument(t *testing.T) {
	h := apitest.Open(t)
	var doc struct{ Paths map[string]map[string]any }
	h.As().Get("/openapi.json").Must(http.StatusOK).Into(&doc)
	told := map[string]bool{}
	for path, methods := range doc.Paths {
		for method := range methods {
			told[strings.ToUpper(method)+" /api/v1"+path] = true
		}
	}
	for _, route := range h.Server.Routes() {
		if !strings.HasPrefix(route.Path, "/api/") {
			continue
		}
		parts := strings.Split(route.Path, "/")
		for i, part := range parts {
			if name, ok := strings.CutPrefix(part, ":"); ok {
				parts[i] = "{" + name + "}"
			}
		}
		key := route.Method + " " + strings.Join(parts, "/")
		if !told[key] {
			t.Errorf("%s is not in the document", key)
		}
		delete(told, key)
	}
	for key := range told {
		t.Errorf("the document tells of %s, which is no route", key)
	}
}

// filled puts something in the place of a path's parameters.
func filled(path string) string {
	parts := strings.Split(path, "/")
	for i, part := range parts {
		if strings.HasPrefix(part, ":") || strings.HasPrefix(part, "*") {
			parts[i] = "nothing-known"
		}
	}
	return strings.Join(parts, "/")
}
