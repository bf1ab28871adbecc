package apitest

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"

	"blankwright/api/respond"
)

// A document judges requests and answers by the server's OpenAPI document.
type document struct {
	router routers.Router
}

func readDocument(t testing.TB, server http.Handler) *document {
	t.Helper()
	w := httptest.NewRecorder()
	server.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8080/api/v1/openapi.json", nil))
	router, err := routerOf(w.Body.String())
	if err != nil {
		t.Fatalf("the OpenAPI document: %v", err)
	}
	return &document{router}
}

// read are the documents that were read before: servers of one kind tell the same,
// and reading it takes longer than most tests.
var read sync.Map

func routerOf(text string) (routers.Router, error) {
	if known, ok := read.Load(text); ok {
		return known.(routers.Router), nil
	}
	doc, err := openapi3.NewLoader().LoadFromData([]byte(text))
	if err != nil {
		return nil, err
	}
	router, err := legacy.NewRouter(doc)
	if err == nil {
		read.Store(text, router)
	}
	return router, err
}

// check fails the test where an answer is not as the document says, or where
// server and document differ on whether a request is well formed.
func (d *document) check(t testing.TB, r *http.Request, answer *http.Response, body []byte) {
	t.Helper()
	if !strings.HasPrefix(r.URL.Path, "/api/") {
		return
	}
	raw := r.Clone(t.Context())
	raw.URL.Path = r.URL.EscapedPath() // so that a slash within an id parts no path
	route, params, err := d.router.FindRoute(raw)
	if err != nil {
		if answer.StatusCode < 400 {
			t.Errorf("%s %s: %d, but the document has no such operation", r.Method, r.URL.Path, answer.StatusCode)
		}
		return
	}
	request := &openapi3filter.RequestValidationInput{
		Request: r, PathParams: params, Route: route,
		Options: &openapi3filter.Options{
			AuthenticationFunc: openapi3filter.NoopAuthenticationFunc, SkipSettingDefaults: true,
			IncludeResponseStatus: true, MultiError: true,
		},
	}
	refused := openapi3filter.ValidateRequest(t.Context(), request)
	switch accepted := answer.StatusCode < 400; {
	case accepted && refused != nil:
		t.Errorf("%s %s: accepted, but by the document it is malformed: %v", r.Method, r.URL, refused)
	case refused == nil && malformed(body):
		t.Errorf("%s %s: refused as malformed, which it is not by the document: %s", r.Method, r.URL, body)
	}
	if strings.HasPrefix(answer.Header.Get("Content-Type"), "text/event-stream") {
		return
	}
	err = openapi3filter.ValidateResponse(t.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: request, Status: answer.StatusCode, Header: answer.Header,
		Body: io.NopCloser(bytes.NewReader(body)), Options: request.Options,
	})
	if err != nil {
		t.Errorf("%s %s: the answer is not as the document says: %v", r.Method, r.URL, err)
	}
}

// malformed reports whether an answer is a refusal of the request's form.
// Parameters that the document does not name are refused by us; a document
// can't say so.
func malformed(body []byte) bool {
	var p respond.Problem
	return json.Unmarshal(body, &p) == nil && p.Detail == "validation failed" &&
		!slices.ContainsFunc(p.Errors, func(f respond.Field) bool { return f.Message == "unknown query parameter" })
}
